// Derivatives where a plain march has been: the same layout in a number type that carries them, only at the places
// that matter.
//
// A sweep in plain numbers finds the places; there the equations hold already, so one Newton step of each in the
// richer type gives the derivatives of the place exactly, by the implicit function theorem.
#pragma once

#include <optional>

#include "bike/sweep.hpp"

namespace trammel::bike {

/// Per-task workspace; nothing is allocated after the first `start`.
template <class T>
class Follow {
 public:
  explicit Follow(const Model& model) : model_(&model) {
    state_.resize(model.program);
    values_.resize(model.circles.size());
  }

  /// Takes the layout that `plain` has marched through, its points with derivatives. `plain` must stay as it is while
  /// the other members are called.
  void start(const std::vector<Vec2<T>>& points, const Sweep<double>& plain) {
    plain_ = &plain;
    linkage::measure(model_->program, points, geometry_);
    at_station(0);
    top_out(*model_, state_, ref_);
    whole_ = travel(at_station(plain.stations().size() - 1));
  }

  /// Positions and velocities at a station of the march.
  const linkage::State<T>& at_station(std::size_t i) {
    const auto& stations = plain_->stations();
    move_to(T(stations[i].s), stations[i == 0 ? 0 : i - 1].seed);
    return state_;
  }

  const T& whole_travel() const { return whole_; }

  /// The wanted curves at driving coordinate s, which the plain sweep has found. With `travel`, s is where the wheel
  /// has risen that far and moves with it; without, or at an end of the range, s stands still.
  const StationValues<T>& at(double s, const std::optional<T>& wheel_travel, const Wanted& wanted) {
    const linkage::Seed<double>& seed = plain_->seed_before(s);
    move_to(T(s), seed);
    if (wheel_travel && s != 0.0 && s != model_->range()) {
      const double slope = value(state_.velocity[axle()].y);
      if (math::abs(slope) > 1e-6) move_to(T(s) + (*wheel_travel - travel(state_)) * (1.0 / slope), seed);
    }
    if (wanted.forces) linkage::accelerations(model_->program, geometry_, state_);
    station(*model_, ref_, state_, whole_, wanted, values_);
    return values_;
  }

 private:
  std::size_t axle() const { return static_cast<std::size_t>(model_->layout.axle.point); }
  T travel(const linkage::State<T>& state) const { return state.position[axle()].y - ref_.axle.y; }

  void move_to(const T& s, const linkage::Seed<double>& seed) {
    seed_.s = T(seed.s);
    seed_.tears.resize(seed.tears.size());
    for (std::size_t i = 0; i < seed.tears.size(); ++i) {
      const linkage::Tear<double>& from = seed.tears[i];
      seed_.tears[i] = {math::constant<T>(from.at), T(from.rate), T(from.bend)};
    }
    linkage::assemble(model_->program, geometry_, s, &seed_, state_);
    linkage::velocities(model_->program, geometry_, state_);
  }

  const Model* model_;
  const Sweep<double>* plain_ = nullptr;
  linkage::Geometry<T> geometry_;
  linkage::State<T> state_;
  linkage::Seed<T> seed_;
  ToppedOut<T> ref_;
  T whole_{};
  StationValues<T> values_;
};

}  // namespace trammel::bike
