// What rules look at, gathered along a march through the stroke.
#pragma once

#include <algorithm>
#include <vector>

#include "bike/compiled_motion.hpp"
#include "bike/sweep.hpp"
#include "objectives/rules/rule.hpp"

namespace trammel::objectives {

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

/// The one with the least value of those first … last − 1 (all, unless given), the first of equals; the end where there
/// is none.
template <class T>
auto worst_of(const std::vector<Least<T>>& all, std::size_t first = 0, std::size_t last = std::string::npos) {
  return std::min_element(all.begin() + static_cast<std::ptrdiff_t>(first),
                          all.begin() + static_cast<std::ptrdiff_t>(std::min(last, all.size())),
                          [](const auto& a, const auto& b) { return a.value < b.value; });
}

template <class T>
struct Fit {
  std::vector<Least<T>> transmission;  ///< one a joint: sin² of the transmission angle; then one a span of the chain
  std::vector<Least<T>> distance2;     ///< one a separation: squared distance, mm²
  Least<T> slope;                      ///< d(wheel travel)/ds, in the direction of the drive
  std::vector<Least<T>> room;          ///< one a measure of the room, mm

  void start(std::size_t joints, std::size_t separations, std::size_t measures) {
    transmission.assign(joints, {T(1e9)});
    distance2.assign(separations, {T(1e18)});
    slope = {T(1e9)};
    room.assign(measures, {T(1e9)});
  }
};

/// d(wheel travel)/ds.
template <class T>
T wheel_slope(const bike::Model& model, const linkage::State<T>& state) {
  return state.velocity[static_cast<std::size_t>(model.layout.axle.point)].y;
}

/// A joint whose links have no length (points on one spot) has no margin: it counts as this far from assembling.
inline constexpr double least_margin = -1e30;

/// Watches one station of the march; with packs, `station` may differ from lane to lane.
template <class T>
void watch(const bike::Model& model, const std::vector<Watched>& apart, const math::Plain<T>& station,
           const linkage::State<T>& state, Fit<T>& fit) {
  for (std::size_t j = 0; j < state.margin.size(); ++j)
    fit.transmission[j].watch(math::max(T(least_margin), state.margin[j]), station);
  for (std::size_t i = 0; i < model.spans.size(); ++i)
    fit.transmission[state.margin.size() + i].watch(bike::span_margin(model, i, state.position), station);
  for (std::size_t k = 0; k < apart.size(); ++k)
    fit.distance2[k].watch(bike::squared(apart[k].of, state.position), station);
  if (model.has_shock()) fit.slope.watch(wheel_slope(model, state), station);
}

/// The same where a CompiledMotion stands.
template <int W>
void watch(const bike::Model& model, const bike::CompiledMotion<W>& motion, const math::Pack<W>& station,
           Fit<math::Pack<W>>& fit) {
  for (std::size_t j = 0; j < fit.transmission.size(); ++j)
    fit.transmission[j].watch(math::max(math::Pack<W>(least_margin), motion.margin(j)), station);
  for (std::size_t k = 0; k < fit.distance2.size(); ++k) fit.distance2[k].watch(motion.distance2(k), station);
  if (model.has_shock()) fit.slope.watch(motion.slope(), station);
}

}  // namespace trammel::objectives
