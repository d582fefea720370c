#include "search/bounds.hpp"

#include <algorithm>
#include <cmath>

#include "math/number.hpp"

namespace trammel::search {
namespace {

/// More than rounding to a layout's grid, and rounding errors, can add.
constexpr double slack = 0.002;

Interval widened(double lo, double hi) {
  return {lo - slack, hi + slack};
}

/// Cosine of angles from lo to hi, degrees: at the ends, and ±1 where a multiple of 180° lies between.
Interval cosine(double lo, double hi) {
  Interval out{-1.0, 1.0};
  const double a = std::cos(math::radians(lo)), b = std::cos(math::radians(hi));
  if (std::floor(hi / 360.0) == std::floor(lo / 360.0) && std::fmod(lo, 360.0) != 0.0) out.hi = std::max(a, b);
  if (std::floor((hi - 180.0) / 360.0) == std::floor((lo - 180.0) / 360.0) && std::fmod(lo - 180.0, 360.0) != 0.0)
    out.lo = std::min(a, b);
  return out;
}

Interval product(const Interval& length, const Interval& part) {
  const double ends[] = {length.lo * part.lo, length.lo * part.hi, length.hi * part.lo, length.hi * part.hi};
  return {*std::min_element(ends, ends + 4), *std::max_element(ends, ends + 4)};
}

Interval over_shocks(const brief::Brief& brief, double brief::ShockSize::*number, double own) {
  Interval out{own, own};
  if (brief.shocks.empty()) return out;
  out = {brief.shocks.front().*number, brief.shocks.front().*number};
  for (const brief::ShockSize& size : brief.shocks)
    out = {std::min(out.lo, size.*number), std::max(out.hi, size.*number)};
  return out;
}

}  // namespace

Interval strokes(const brief::Brief& brief) {
  return over_shocks(brief, &brief::ShockSize::stroke, brief.layout.shock->stroke);
}

Interval shock_lengths(const brief::Brief& brief) {
  return over_shocks(brief, &brief::ShockSize::length, brief.layout.shock->length);
}

std::vector<PointBounds> point_bounds(const brief::Brief& brief) {
  std::vector<PointBounds> bounds;
  for (const bike::Point& p : brief.layout.mechanism.points) bounds.push_back({widened(p.x, p.x), widened(p.y, p.y)});
  for (const brief::Vary& vary : brief.vary) {
    PointBounds& point = bounds[static_cast<std::size_t>(vary.point)];
    if (const auto* cartesian = std::get_if<brief::Cartesian>(&vary.place)) {
      point = {widened(cartesian->x.lo, cartesian->x.hi), widened(cartesian->y.lo, cartesian->y.hi)};
      continue;
    }
    const auto& polar = std::get<brief::Polar>(vary.place);
    const Interval length = polar.length_is_shock ? shock_lengths(brief) : Interval{polar.length.lo, polar.length.hi};
    const PointBounds& from = bounds[static_cast<std::size_t>(polar.from)];
    const Interval x = product(length, cosine(polar.angle.lo, polar.angle.hi));
    const Interval y = product(length, cosine(polar.angle.lo - 90.0, polar.angle.hi - 90.0));
    point = {widened(from.x.lo + x.lo, from.x.hi + x.hi), widened(from.y.lo + y.lo, from.y.hi + y.hi)};
  }
  return bounds;
}

Interval distance_from_origin(const PointBounds& b) {
  const auto nearest = [](const Interval& i) { return std::max({i.lo, -i.hi, 0.0}); };
  const auto farthest = [](const Interval& i) { return std::max(std::abs(i.lo), std::abs(i.hi)); };
  return {std::hypot(nearest(b.x), nearest(b.y)), std::hypot(farthest(b.x), farthest(b.y))};
}

double greatest_distance(const PointBounds& a, const PointBounds& b) {
  const auto apart = [](const Interval& i, const Interval& j) { return std::max(i.hi - j.lo, j.hi - i.lo); };
  return std::hypot(apart(a.x, b.x), apart(a.y, b.y));
}

}  // namespace trammel::search
