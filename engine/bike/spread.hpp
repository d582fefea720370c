// Moves one layout through its stroke with its positions side by side: each lane of a pack is another place.
//
// What a Sweep<double> finds, this finds in the same digits, several places at a time. Where the linkage has blocks, a
// position needs the one before it: there the march goes station by station, and only the places after it side by side.
#pragma once

#include <algorithm>
#include <array>
#include <span>
#include <utility>
#include <vector>

#include "bike/station.hpp"
#include "bike/stroke_samples.hpp"

namespace trammel::bike {

/// The driving coordinates of W places of one layout, fewer when the list is shorter; the last one fills the lanes left
/// over. See bike::driving_at.
template <int W, class Move>
math::Pack<W> driving_at_places(const StrokeSamples<double>& march, std::span<const Locus> places, Move move) {
  std::array<double, W> s{}, travel{};
  std::array<bool, W> moves{};
  bool any_moves = false;
  for (std::size_t lane = 0; lane < W; ++lane) {
    const Locus& place = places[std::min(lane, places.size() - 1)];
    s[lane] = place.offset;
    travel[lane] = place.driving ? 0.0 : march.travel.back() * place.factor + place.offset;
    moves[lane] = !place.driving;
    any_moves = any_moves || moves[lane];
  }
  if (!any_moves) return math::pack_of<W>(s);
  const math::Pack<W> found = driving_at(march, math::pack_of<W>(travel), move);
  for (std::size_t lane = 0; lane < W; ++lane)
    if (moves[lane]) s[lane] = math::lane(found, lane);
  return math::pack_of<W>(s);
}

/// Per-task workspace; nothing is allocated after the first `march`.
template <int W>
class Spread {
 public:
  using P = math::Pack<W>;

  /// `stations` ≥ 2 intervals of the march.
  Spread(const Model& model, int stations) : model_(&model) {
    samples_.resize(model.program, static_cast<std::size_t>(stations) + 1);
    state_.resize(model.program);
    values_.resize(model.circles.size());
    ref_.runs.resize(model.circles.size());
    points_.resize(model.layout.mechanism.points.size());
  }

  /// Takes a layout given by its points as drawn.
  void begin(const std::vector<Vec2<double>>& points) {
    for (std::size_t p = 0; p < points_.size(); ++p) points_[p] = {P(points[p].x), P(points[p].y)};
    linkage::measure(model_->program, points_, geometry_, state_);
  }

  /// Moves it from topped out to bottomed. visit(first, state) is called with stations first, first + 1, … in the
  /// lanes of a state with positions and velocities; lanes past the last station repeat it.
  template <class Visit>
  void march(Visit visit) {
    const bool jumps = model_->program.tears == 0;
    const std::size_t n = samples_.stations(), stride = jumps ? W : 1;
    for (std::size_t first = 0; first < n; first += stride) {
      P s(samples_.s[first]);
      for (std::size_t i = 1; i < stride; ++i) s.set(static_cast<int>(i), samples_.s[std::min(first + i, n - 1)]);
      if (!jumps && first > 0) samples_.seed_at(P(static_cast<double>(first - 1)), seed_);
      linkage::assemble(model_->program, geometry_, s, first == 0 ? nullptr : &seed_, state_);
      linkage::velocities(model_->program, geometry_, state_);
      if (!jumps) linkage::accelerations(model_->program, geometry_, state_);
      if (first == 0) top_out_from_first();
      for (std::size_t i = first; i < std::min(first + stride, n); ++i) keep(i, static_cast<int>(i - first));
      visit(first, static_cast<const linkage::State<P>&>(state_));
    }
  }

  const StrokeSamples<double>& stations() const { return samples_; }
  double whole_travel() const { return samples_.travel.back(); }
  const linkage::State<P>& state() const { return state_; }
  const linkage::Geometry<P>& geometry() const { return geometry_; }

  /// See driving_at_places.
  P driving_at(std::span<const Locus> places) {
    return driving_at_places<W>(samples_, places, [&](const P& at, const P& interval) {
      move_to(at, interval);
      return std::pair(P(state_.position[axle()].y - ref_.axle.y), state_.velocity[axle()].y);
    });
  }

  /// Positions and velocities at driving coordinates.
  const linkage::State<P>& move_to(const P& s) {
    move_to(s, model_->program.tears > 0 ? samples_.interval_of(s) : P(0.0));
    return state_;
  }

  /// Accelerations of the positions last moved to.
  const linkage::State<P>& accelerate() {
    linkage::accelerations(model_->program, geometry_, state_);
    return state_;
  }

  /// The wanted curves at driving coordinates within the range; accelerations only when forces are wanted.
  const StationValues<P>& at(const P& s, const Wanted& wanted) {
    move_to(s);
    if (wanted.forces) accelerate();
    station(*model_, ref_, geometry_, state_, fork_rate(model_->layout.front, P(whole_travel())), wanted, values_);
    return values_;
  }

 private:
  std::size_t axle() const { return static_cast<std::size_t>(model_->layout.axle.point); }

  void move_to(const P& s, const P& interval) {
    samples_.seed_at(interval, seed_);
    linkage::assemble(model_->program, geometry_, s, &seed_, state_);
    linkage::velocities(model_->program, geometry_, state_);
  }

  void top_out_from_first() {
    first_.position.resize(state_.position.size());
    for (std::size_t p = 0; p < first_.position.size(); ++p)
      first_.position[p] = {P(state_.position[p].x[0]), P(state_.position[p].y[0])};
    top_out(*model_, first_, ref_);
  }

  void keep(std::size_t station, int lane) {
    samples_.travel[station] = (state_.position[axle()].y - ref_.axle.y)[lane];
    samples_.slope[station] = state_.velocity[axle()].y[lane];
    for (std::size_t j = 0; j < state_.tears.size(); ++j) {
      const linkage::Tear<P>& from = state_.tears[j];
      samples_.tears[station][j] = {{from.at.x[lane], from.at.y[lane]}, from.rate[lane], from.bend[lane]};
    }
  }

  const Model* model_;
  std::vector<Vec2<P>> points_;
  linkage::Geometry<P> geometry_;
  linkage::State<P> state_, first_;
  linkage::Seed<P> seed_;
  ToppedOut<P> ref_;
  StrokeSamples<double> samples_;
  StationValues<P> values_;
};

}  // namespace trammel::bike
