// Moves a layout, or a pack of layouts, and gathers what is asked of it.
#pragma once

#include "objectives/layout_motion.hpp"
#include "objectives/verdict.hpp"

namespace trammel::objectives {

/// Per-task workspace; nothing is allocated after the first evaluation. With T a pack, each lane is a layout.
template <class T, class Motion = KernelMotion<T>>
class Assessor {
 public:
  using Number = T;

  /// `demands` must outlive it.
  explicit Assessor(const Demands& demands) : demands_(&demands), motion_(demands) { outcome_.resize(demands); }

  /// Moves the layout through its stroke and watches the rules. Returns whether it assembles everywhere.
  math::Truth<T> march(const std::vector<math::Vec2<T>>& points) {
    begin(points);
    for (std::size_t i = 0; i < stations(); ++i) stop_at(i);
    watch_room();
    return outcome_.assembles();
  }

  /// Computes the curves that targets need; after `march`.
  void curves() {
    for (std::size_t k = 0; k < demands_->places.stations.size(); ++k) compute_place(k);
    for (std::size_t t = 0; t < demands_->targets.size(); ++t) finish_measure(t);
  }

  // The same in parts, for a screening that stops early.

  void begin(const std::vector<math::Vec2<T>>& points) {
    outcome_.points = points;
    outcome_.start(*demands_);
  }
  std::size_t stations() const { return motion_.stations(); }
  /// One station of the march: 0 first; see Sweep::stop_at for the order of the others.
  void stop_at(std::size_t i) {
    if (i == 0) motion_.begin(outcome_.points);
    outcome_.march_travel[i] = motion_.stop_at(i, outcome_.fit);
  }
  /// The room between bodies at all stations, once they have been stopped at.
  void watch_room() {
    const bike::Room& room = demands_->room;
    if (room.measures() == 0) return;
    room.measure(outcome_.points, ratios_);
    for (std::size_t i = 0; i < stations(); ++i) {
      const std::vector<math::Vec2<T>>& positions = motion_.positions_at(i);
      room.outline(positions, ratios_, corners_);
      for (std::size_t k = 0; k < room.measures(); ++k)
        outcome_.fit.room[k].watch(room.measured(k, positions, corners_), math::Plain<T>(static_cast<double>(i)));
    }
  }
  /// The curves that targets need at place k.
  void compute_place(std::size_t k) {
    outcome_.driving[k] = motion_.stand_at(k);
    for (const Look& look : demands_->places.looks[k]) {
      *seen_by(*demands_, look, outcome_) = motion_.curve(look.curve);
      if (T* const travel = travel_of(*demands_, look, outcome_)) *travel = motion_.travel();
    }
  }
  void finish_measure(std::size_t t) { objectives::finish_measure(*demands_, t, outcome_); }

  const Outcome<T>& outcome() const { return outcome_; }
  const Demands& demands() const { return *demands_; }

 private:
  const Demands* demands_;
  Motion motion_;
  Outcome<T> outcome_;
  std::vector<math::Vec2<T>> ratios_, corners_;
};

/// Verdicts on all targets and rules.
Assessment assess(const Demands& demands, const Outcome<double>& outcome);

/// Why a layout does not assemble: its worst joint, by name.
std::string assembly_failure(const bike::Model& model, std::size_t joint);

/// The joint that fails most, or holds least.
template <class T>
math::Plain<T> worst_joint(const Fit<T>& fit) {
  Least<math::Plain<T>> worst{math::Plain<T>(1e9)};
  for (std::size_t j = 0; j < fit.transmission.size(); ++j)
    worst.watch(math::value(fit.transmission[j].value), math::Plain<T>(static_cast<double>(j)));
  return worst.station;
}

}  // namespace trammel::objectives
