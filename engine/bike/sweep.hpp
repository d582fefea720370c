// Moves one layout through its stroke: a march of even stations in the driving coordinate, then any place exactly.
#pragma once

#include <algorithm>
#include <vector>

#include "bike/station.hpp"

namespace trammel::bike {

/// One station of the march.
template <class T>
struct MarchPoint {
  T s{};       ///< driving coordinate
  T travel{};  ///< wheel travel, mm
  T slope{};   ///< d travel / ds
  linkage::Seed<T> seed;
};

/// Per-task workspace; nothing is allocated after the first `march`.
template <class T>
class Sweep {
 public:
  /// `stations` ≥ 2 intervals of the march.
  Sweep(const Model& model, int stations) : model_(&model), march_(static_cast<std::size_t>(stations) + 1) {
    state_.resize(model.program);
    values_.resize(model.circles.size());
  }

  /// Takes a layout given by its points as drawn, and moves it from topped out to bottomed. `visit(i, state)` is called
  /// at each station with positions and velocities.
  template <class Visit>
  void march(const std::vector<Vec2<T>>& points, Visit visit) {
    begin(points);
    for (std::size_t i = 0; i < march_.size(); ++i) stop_at(i, visit);
  }

  /// Takes a layout; its stations are then to be stopped at one by one, from 0 on. A program without blocks needs no
  /// order but 0 first.
  void begin(const std::vector<Vec2<T>>& points) { linkage::measure(model_->program, points, geometry_); }

  template <class Visit>
  void stop_at(std::size_t i, Visit visit) {
    const linkage::Program& program = model_->program;
    const double step = model_->range() / static_cast<double>(march_.size() - 1);
    linkage::assemble(program, geometry_, T(step * static_cast<double>(i)), i == 0 ? nullptr : &march_[i - 1].seed,
                      state_);
    linkage::velocities(program, geometry_, state_);
    if (program.tears > 0) linkage::accelerations(program, geometry_, state_);
    if (i == 0) top_out(*model_, state_, ref_);
    MarchPoint<T>& at = march_[i];
    at.s = state_.s;
    at.travel = state_.position[axle()].y - ref_.axle.y;
    at.slope = state_.velocity[axle()].y;
    at.seed.s = state_.s;
    at.seed.tears = state_.tears;
    visit(i, static_cast<const linkage::State<T>&>(state_));
  }

  const std::vector<MarchPoint<T>>& stations() const { return march_; }
  const T& whole_travel() const { return march_.back().travel; }
  const linkage::State<T>& state() const { return state_; }
  const linkage::Geometry<T>& geometry() const { return geometry_; }
  const ToppedOut<T>& topped_out() const { return ref_; }

  /// The seed of the last station before s.
  const linkage::Seed<T>& seed_before(const T& s) const { return march_[interval_at(s)].seed; }

  /// The wanted curves at a driving coordinate within the range; accelerations only when forces are wanted.
  const StationValues<T>& at(const T& s, const Wanted& wanted) {
    move_to(s, interval_at(s));
    if (wanted.forces) linkage::accelerations(model_->program, geometry_, state_);
    station(*model_, ref_, state_, whole_travel(), wanted, values_);
    return values_;
  }

  /// The driving coordinate at a wheel travel, exactly: an inverse cubic through the march gives it to a few
  /// micrometres, one Newton step to rounding. Outside the whole travel it stays at the nearest end.
  T driving_at(const T& travel) {
    const std::size_t i = interval([&](const MarchPoint<T>& m) { return m.travel < travel; }, true);
    const MarchPoint<T>&a = march_[i], &b = march_[i + 1];
    const T guess = clamped(inverse_cubic(a, b, travel), a.s, b.s);
    move_to(guess, i);
    const T slope = state_.velocity[axle()].y;
    const T guarded = math::select(math::abs(slope) < T(1e-6), T(1e-6), slope);
    return clamped(guess - (state_.position[axle()].y - ref_.axle.y - travel) / guarded, a.s, b.s);
  }

 private:
  std::size_t axle() const { return static_cast<std::size_t>(model_->layout.axle.point); }
  bool forwards() const { return model_->range() > 0.0; }

  /// Positions and velocities at s, from the station at the start of interval i.
  void move_to(const T& s, std::size_t i) {
    linkage::assemble(model_->program, geometry_, s, &march_[i].seed, state_);
    linkage::velocities(model_->program, geometry_, state_);
  }

  std::size_t interval_at(const T& s) const {
    return interval([&](const MarchPoint<T>& m) { return m.s < s; }, forwards());
  }

  /// The interval whose start is the last station that `before` holds for (or does not, when counting backwards).
  template <class Before>
  std::size_t interval(Before before, bool rising) const {
    std::size_t i = 0;
    while (i + 2 < march_.size() && before(march_[i + 1]) == rising) ++i;
    return i;
  }

  T clamped(const T& s, const T& a, const T& b) const {
    return forwards() ? math::max(math::min(s, b), a) : math::max(math::min(s, a), b);
  }

  /// Hermite's cubic of s over travel, with the exact slopes ds/dtravel at both ends.
  static T inverse_cubic(const MarchPoint<T>& a, const MarchPoint<T>& b, const T& travel) {
    const auto guarded = [](const T& x) { return math::select(math::abs(x) < T(1e-6), T(1e-6), x); };
    const T width = guarded(b.travel - a.travel);
    const T t = (travel - a.travel) / width, u = T(1.0) - t;
    const T ma = width / guarded(a.slope), mb = width / guarded(b.slope);
    return a.s * (T(1.0) + T(2.0) * t) * u * u + b.s * (T(3.0) - T(2.0) * t) * t * t + t * u * (ma * u - mb * t);
  }

  const Model* model_;
  linkage::Geometry<T> geometry_;
  linkage::State<T> state_;
  ToppedOut<T> ref_;
  std::vector<MarchPoint<T>> march_;
  StationValues<T> values_;
};

}  // namespace trammel::bike
