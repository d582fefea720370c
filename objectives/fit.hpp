// The packaging rules and feasibility conditions, gathered along a march through the stroke.
#pragma once

#include <utility>
#include <vector>

#include "bike/glide.hpp"
#include "bike/sweep.hpp"
#include "objectives/packaging.hpp"

namespace trammel::objectives {

/// Two pivots whose distance is watched.
using PivotPair = std::pair<int, int>;

/// Pivots are the points that members share and the shock's eyes; every two of them make a pair.
std::vector<PivotPair> pivot_pairs(const linkage::Mechanism& mechanism);

/// The least that a watched quantity has been, and at which station of the march.
template <class T>
struct Least {
  T value{};
  math::Plain<T> station{0.0};

  void watch(const T& x, const math::Plain<T>& at) {
    station = math::select(x < value, at, station);
    value = math::min(value, x);
  }
};

template <class T>
struct Fit {
  std::vector<Least<T>> transmission;  ///< one a joint: sin² of the transmission angle (Joint margins)
  std::vector<Least<T>> distance2;     ///< one a pair: squared distance, mm²
  Least<T> slope;                      ///< d(wheel travel)/ds, in the direction of the drive
  std::vector<Least<T>> room;          ///< one a measure of the room, mm

  void start(std::size_t joints, std::size_t pairs, std::size_t measures) {
    transmission.assign(joints, {T(1e9)});
    distance2.assign(pairs, {T(1e18)});
    slope = {T(1e9)};
    room.assign(measures, {T(1e9)});
  }
};

template <class T>
T distance2_of(const PivotPair& pair, const linkage::State<T>& state) {
  return squared_norm(state.position[static_cast<std::size_t>(pair.second)] -
                      state.position[static_cast<std::size_t>(pair.first)]);
}

/// d(wheel travel)/ds.
template <class T>
T wheel_slope(const bike::Model& model, const linkage::State<T>& state) {
  return state.velocity[static_cast<std::size_t>(model.layout.axle.point)].y;
}

/// Eye to eye as drawn, mm; the layout has a shock.
template <class T>
T drawn_shock_length(const bike::Model& model, const std::vector<math::Vec2<T>>& points) {
  const linkage::Drive& drive = model.layout.mechanism.drive;
  return norm(points[static_cast<std::size_t>(drive.b)] - points[static_cast<std::size_t>(drive.a)]);
}

/// A joint whose links have no length (points on one spot) has no margin: it counts as this far from assembling.
inline constexpr double least_margin = -1e30;

/// Watches one station of the march; with packs, `station` may differ from lane to lane.
template <class T>
void watch(const bike::Model& model, const std::vector<PivotPair>& pairs, const math::Plain<T>& station,
           const linkage::State<T>& state, Fit<T>& fit) {
  for (std::size_t j = 0; j < state.margin.size(); ++j)
    fit.transmission[j].watch(math::max(T(least_margin), state.margin[j]), station);
  for (std::size_t k = 0; k < pairs.size(); ++k) fit.distance2[k].watch(distance2_of(pairs[k], state), station);
  if (model.has_shock()) fit.slope.watch(wheel_slope(model, state), station);
}

/// The same where a Glide stands.
template <int W>
void watch(const bike::Model& model, const bike::Glide<W>& glide, const math::Pack<W>& station,
           Fit<math::Pack<W>>& fit) {
  for (std::size_t j = 0; j < fit.transmission.size(); ++j)
    fit.transmission[j].watch(math::max(math::Pack<W>(least_margin), glide.margin(j)), station);
  for (std::size_t k = 0; k < fit.distance2.size(); ++k) fit.distance2[k].watch(glide.distance2(k), station);
  if (model.has_shock()) fit.slope.watch(glide.slope(), station);
}

/// How closely the drawn eye-to-eye length must match the shock's, mm.
inline constexpr double shock_length_tolerance = 0.5;
/// Least leverage ratio: under it the wheel is taken to stop rising before the shock is through.
inline constexpr double least_slope = 0.2;

/// Scales at which a broken rule counts as one residual: sin² of an angle, mm, ratio.
inline constexpr double transmission_scale = 0.05;
inline constexpr double distance_scale = 2.0;
inline constexpr double box_scale = 1.0;
inline constexpr double slope_scale = 0.2;
/// A search keeps lengths so far inside their limits, mm: a penalty leaves its minimum just outside one that binds.
inline constexpr double length_inset = 0.02;

/// sin² of the least transmission angle.
inline double least_transmission(const Packaging& packaging) {
  const double sine = math::sin(math::radians(packaging.least_transmission_angle));
  return sine * sine;
}

// By how much each rule is missed, as a multiple of the rule's scale; negative when it holds.

/// `least`: see least_transmission; `margin`: the least sin² of a joint's transmission angle.
template <class T>
T transmission_miss(double least, const T& margin) {
  return (T(least) - margin) * T(1.0 / transmission_scale);
}
/// `distance2`: the least squared distance of two pivots; the rule must be set.
template <class T>
T distance_miss(const Packaging& packaging, const T& distance2) {
  return (T(*packaging.least_pivot_distance) - math::sqrt(distance2)) * T(1.0 / distance_scale);
}
/// Pivots that are no closer than this, in mm², keep the rule: their root need not be taken.
inline double kept_distance2(double least_pivot_distance) {
  return least_pivot_distance * least_pivot_distance * (1.0 + 1e-12);
}
/// `slope`: the least d(wheel travel)/ds.
template <class T>
T slope_miss(const T& slope) {
  return (T(least_slope) - slope) * T(1.0 / slope_scale);
}

/// The rules on points as drawn, handed to `take` in order.
template <class T, class Take>
void drawn_misses(const bike::Model& model, const Packaging& packaging, const std::vector<math::Vec2<T>>& points,
                  Take take) {
  for (const Box& box : packaging.boxes) {
    const auto& p = points[static_cast<std::size_t>(box.point)];
    const auto outside = [&](const Interval& i, const T& x) {
      take(T(math::max(T(i.lo) - x, x - T(i.hi)) * T(1.0 / box_scale)));
    };
    if (box.x) outside(*box.x, p.x);
    if (box.y) outside(*box.y, p.y);
  }
  for (const LengthRule& rule : packaging.lengths) {
    const T length = norm(points[static_cast<std::size_t>(rule.to)] - points[static_cast<std::size_t>(rule.from)]);
    if (rule.least) take(T((T(*rule.least + length_inset) - length) * T(1.0 / box_scale)));
    if (rule.greatest) take(T((length - T(*rule.greatest - length_inset)) * T(1.0 / box_scale)));
  }
  if (!model.has_shock()) return;
  const T off = math::abs(drawn_shock_length(model, points) - T(model.layout.shock->length));
  take(T((off - T(0.5 * shock_length_tolerance)) * T(1.0 / shock_length_tolerance)));
}

/// The rules along the stroke, handed to `take` in order, but for distances that are kept in every lane.
template <class T, class Take>
void stroke_misses(const bike::Model& model, const Packaging& packaging, const Fit<T>& fit, Take take) {
  const double angle = least_transmission(packaging);
  for (const Least<T>& least : fit.transmission) take(transmission_miss(angle, least.value));
  if (packaging.least_pivot_distance) {
    const math::Plain<T> kept(kept_distance2(*packaging.least_pivot_distance));
    for (const Least<T>& least : fit.distance2)
      if (!math::all(math::value(least.value) >= kept)) take(distance_miss(packaging, least.value));
  }
  if (model.has_shock()) take(slope_miss(fit.slope.value));
}

}  // namespace trammel::objectives
