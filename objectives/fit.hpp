// The packaging rules and feasibility conditions, gathered along a march through the stroke.
#pragma once

#include <utility>
#include <vector>

#include "bike/sweep.hpp"
#include "objectives/packaging.hpp"

namespace trammel::objectives {

/// Two pivots whose distance is watched.
using PivotPair = std::pair<int, int>;

/// Pivots are the points that members share and the shock's eyes; every two of them make a pair.
std::vector<PivotPair> pivot_pairs(const linkage::Mechanism& mechanism);

/// The least that each watched quantity has been, and at which station of the march.
template <class T>
struct Fit {
  std::vector<T> transmission;  ///< one a joint: sin² of the transmission angle (Joint margins)
  std::vector<std::size_t> transmission_at;
  std::vector<T> distance2;  ///< one a pair: squared distance, mm²
  std::vector<std::size_t> distance_at;
  T slope{};  ///< d(wheel travel)/ds, in the direction of the drive
  std::size_t slope_at = 0;
  T shock_length{};  ///< eye to eye as drawn, mm

  void start(std::size_t joints, std::size_t pairs) {
    transmission.assign(joints, T(1e9));
    transmission_at.assign(joints, 0);
    distance2.assign(pairs, T(1e18));
    distance_at.assign(pairs, 0);
    slope = T(1e9);
    slope_at = 0;
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

/// Watches one station of the march.
template <class T>
void watch(const bike::Model& model, const std::vector<PivotPair>& pairs, std::size_t station,
           const linkage::State<T>& state, Fit<T>& fit) {
  const auto keep_least = [&](const T& x, T& least, std::size_t& at) {
    at = x < least ? station : at;
    least = math::min(least, x);
  };
  for (std::size_t j = 0; j < state.margin.size(); ++j)
    keep_least(math::max(T(least_margin), state.margin[j]), fit.transmission[j], fit.transmission_at[j]);
  for (std::size_t k = 0; k < pairs.size(); ++k)
    keep_least(distance2_of(pairs[k], state), fit.distance2[k], fit.distance_at[k]);
  if (model.has_shock()) keep_least(wheel_slope(model, state), fit.slope, fit.slope_at);
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

/// sin² of the least transmission angle.
inline double least_transmission(const Packaging& packaging) {
  const double sine = std::sin(math::radians(packaging.least_transmission_angle));
  return sine * sine;
}

/// By how much each rule is missed, as a multiple of the rule's scale, handed to `take` in order; negative when it
/// holds.
template <class T, class Take>
void rule_misses(const bike::Model& model, const Packaging& packaging, const Fit<T>& fit,
                 const std::vector<math::Vec2<T>>& points, Take take) {
  const T least_sine2(least_transmission(packaging));
  for (const T& margin : fit.transmission) take((least_sine2 - margin) * (1.0 / transmission_scale));
  if (packaging.least_pivot_distance)
    for (const T& d2 : fit.distance2)
      take((T(*packaging.least_pivot_distance) - math::sqrt(d2)) * (1.0 / distance_scale));
  for (const Box& box : packaging.boxes) {
    const auto& p = points[static_cast<std::size_t>(box.point)];
    const auto outside = [&](const Interval& i, const T& x) {
      take(math::max(T(i.lo) - x, x - T(i.hi)) * (1.0 / box_scale));
    };
    if (box.x) outside(*box.x, p.x);
    if (box.y) outside(*box.y, p.y);
  }
  if (!model.has_shock()) return;
  take((T(least_slope) - fit.slope) * (1.0 / slope_scale));
  const T off = math::abs(fit.shock_length - T(model.layout.shock->length));
  take((off - T(0.5 * shock_length_tolerance)) * (1.0 / shock_length_tolerance));
}

/// Residuals of all rules, each 0 when the rule holds, handed to `take`.
template <class T, class Take>
void rule_residuals(const bike::Model& model, const Packaging& packaging, const Fit<T>& fit,
                    const std::vector<math::Vec2<T>>& points, Take take) {
  rule_misses(model, packaging, fit, points, [&](const T& miss) { take(math::max(miss, T(0.0))); });
}

}  // namespace trammel::objectives
