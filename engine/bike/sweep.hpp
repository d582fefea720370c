// Moves a layout through its stroke, or layouts side by side: a march of even stations in the driving coordinate, then
// any place exactly.
#pragma once

#include <utility>
#include <vector>

#include "bike/station.hpp"
#include "bike/stroke_samples.hpp"

namespace trammel::bike {

/// Per-task workspace; nothing is allocated after the first `march`. With T a pack, each lane is a layout of its own.
template <class T>
class Sweep {
 public:
  /// `stations` ≥ 2 intervals of the march.
  Sweep(const Model& model, int stations) : model_(&model) {
    samples_.resize(model.program, static_cast<std::size_t>(stations) + 1);
    state_.resize(model.program);
    values_.resize(model.circles.size());
    ref_.runs.resize(model.circles.size());
  }

  /// Takes a layout given by its points as drawn, and moves it from topped out to bottomed. `visit(i, state)` is called
  /// at each station with positions and velocities.
  template <class Visit>
  void march(const std::vector<Vec2<T>>& points, Visit visit) {
    begin(points);
    for (std::size_t i = 0; i < samples_.stations(); ++i) stop_at(i, visit);
  }

  /// Takes a layout; its stations are then to be stopped at one by one, from 0 on. A program without blocks needs no
  /// order but 0 first.
  void begin(const std::vector<Vec2<T>>& points) { linkage::measure(model_->program, points, geometry_, state_); }

  template <class Visit>
  void stop_at(std::size_t i, Visit visit) {
    const linkage::Program& program = model_->program;
    if (i > 0 && program.tears > 0) {
      seed_.s = T(samples_.s[i - 1]);
      seed_.tears = samples_.tears[i - 1];
    }
    linkage::assemble(program, geometry_, T(samples_.s[i]), i == 0 ? nullptr : &seed_, state_);
    linkage::velocities(program, geometry_, state_);
    if (program.tears > 0) linkage::accelerations(program, geometry_, state_);
    if (i == 0) top_out(*model_, state_, ref_);
    samples_.travel[i] = wheel_travel();
    samples_.slope[i] = wheel_slope();
    samples_.tears[i] = state_.tears;
    visit(i, static_cast<const linkage::State<T>&>(state_));
  }

  const StrokeSamples<T>& stations() const { return samples_; }
  const T& whole_travel() const { return samples_.travel.back(); }
  const linkage::State<T>& state() const { return state_; }
  const linkage::Geometry<T>& geometry() const { return geometry_; }
  const ToppedOut<T>& topped_out() const { return ref_; }

  /// The wanted curves at a driving coordinate within the range; accelerations only when forces are wanted.
  const StationValues<T>& at(const T& s, const Wanted& wanted) {
    move_to(s, model_->program.tears > 0 ? samples_.interval_of(s) : math::Plain<T>(0.0));
    if (wanted.forces) linkage::accelerations(model_->program, geometry_, state_);
    station(*model_, ref_, geometry_, state_, fork_rate(model_->layout.front, whole_travel()), wanted, values_);
    return values_;
  }

  /// The driving coordinate of a place.
  T driving_at(const Locus& locus) {
    return locus.driving ? T(locus.offset) : driving_at(T(whole_travel() * T(locus.factor) + T(locus.offset)));
  }
  /// The driving coordinate at a wheel travel; see bike::driving_at.
  T driving_at(const T& travel) {
    return bike::driving_at(samples_, travel, [&](const T& s, const math::Plain<T>& interval) {
      move_to(s, interval);
      return std::pair(wheel_travel(), wheel_slope());
    });
  }

 private:
  T wheel_travel() const { return state_.position[axle()].y - ref_.axle.y; }
  T wheel_slope() const { return state_.velocity[axle()].y; }
  std::size_t axle() const { return static_cast<std::size_t>(model_->layout.axle.point); }

  /// Positions and velocities at s, from the station at the start of an interval.
  void move_to(const T& s, const math::Plain<T>& interval) {
    samples_.seed_at(interval, seed_);
    linkage::assemble(model_->program, geometry_, s, &seed_, state_);
    linkage::velocities(model_->program, geometry_, state_);
  }

  const Model* model_;
  linkage::Geometry<T> geometry_;
  linkage::State<T> state_;
  linkage::Seed<T> seed_;
  ToppedOut<T> ref_;
  StrokeSamples<T> samples_;
  StationValues<T> values_;
};

}  // namespace trammel::bike
