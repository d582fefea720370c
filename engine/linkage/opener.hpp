// The search for the order in which a mechanism's points can be placed; used by `compile` only.
#pragma once

#include <optional>
#include <vector>

#include "linkage/program.hpp"

namespace trammel::linkage {

/// How far the placing of points has come, and the steps so far. Copied to try one tear against another.
class Opener {
 public:
  explicit Opener(const Mechanism& mechanism);

  /// Takes closed-form steps until none is left, or until `closures` conditions are left over.
  void advance(std::size_t closures);
  bool done() const;

  /// Guesses that would let it go on: a spinning member or a sliding point.
  std::vector<Step> tears() const;
  void take(const Step& tear);

  const std::vector<Step>& steps() const { return steps_; }
  const std::vector<Closure>& closures() const { return closures_; }
  void clear_closures() { closures_.clear(); }
  bool placed(int point) const { return placed_[static_cast<std::size_t>(point)]; }
  /// The drive has been used by a step or closure.
  bool driven() const { return drive_used_; }

 private:
  struct Body {
    bool set = false;         ///< two of its points are placed and consistent with it
    std::vector<int> placed;  ///< its placed points in order; only the first counts while it is not set
  };

  bool step();
  bool place_step();
  bool driven_spin_step();
  bool meet_step();
  bool hinge_step();
  void put(const Step& step, const std::vector<int>& through);
  void note_point(int point, const std::vector<int>& through);
  void note_leftovers();
  std::vector<std::pair<Constraint, int>> constraints_on(int point) const;
  bool member_set(int member) const { return bodies_[static_cast<std::size_t>(member)].set; }
  void use(const Constraint& constraint);

  const Mechanism* mechanism_;
  std::vector<bool> placed_;
  std::vector<Body> bodies_;
  std::vector<bool> slider_used_;
  bool drive_used_ = false;
  std::vector<Step> steps_;
  std::vector<Closure> closures_;
};

}  // namespace trammel::linkage
