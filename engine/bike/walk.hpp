// A layout's way through its stroke, watched for where it stops, and the reason in words.
#pragma once

#include <optional>
#include <string>

#include "bike/sweep.hpp"

namespace trammel::bike {

/// A number with so many decimals.
std::string fixed_text(double x, int decimals);

/// The joint, or span of the chain (see Model::joints), that is nearest to failing, and its margin.
struct Worst {
  std::size_t joint = 0;
  double margin = 1.0;
};

/// Moves a model through its stroke, topped out to bottomed.
class Walk {
 public:
  /// `model` must outlive it.
  explicit Walk(const Model& model);

  Sweep<double>& sweep() { return sweep_; }
  const Sweep<double>& sweep() const { return sweep_; }
  /// The station of the march at which it has stopped: at a dead point, or where the chain cannot run.
  const std::optional<std::size_t>& failed() const { return failed_; }

  struct Place {
    double s = 0.0;       ///< driving coordinate
    double travel = 0.0;  ///< of the wheel, mm
    Worst worst;
  };
  Place at(double s, const linkage::Seed<double>* seed) const;

  struct Stop {
    Place last, first;         ///< the last place that is sound and the first that is not, next to each other
    bool parts_again = false;  ///< further on it is sound again, and assembles all the way there
  };
  /// Where it stops, to a micrometre; of one that has failed at a later station than the first.
  Stop stop() const;

  double least_margin = 1.0;  ///< sin² of the least transmission angle …
  double least_travel = 0.0;  ///< … the wheel travel there, mm, …
  std::string least_joint;    ///< … and its joint

 private:
  double travel_of(const linkage::State<double>& state) const;
  bool parts_again(double s, const linkage::Seed<double>& seed) const;

  const Model& model_;
  Sweep<double> sweep_;
  std::optional<std::size_t> failed_;
};

/// "reaches a dead point at eye, where swingarm and the shock are in line, at 61.20 mm of wheel travel (…)": of a walk
/// that has failed.
std::string why_it_stops(const Model& model, const Walk& walk);

}  // namespace trammel::bike
