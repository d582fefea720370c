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

PointBounds moved(const PointBounds& from, const Interval& x, const Interval& y) {
  return {widened(from.x.lo + x.lo, from.x.hi + x.hi), widened(from.y.lo + y.lo, from.y.hi + y.hi)};
}

/// How far a point lies from the one that it is placed from.
Interval length_of(const brief::Brief& brief, const std::vector<PointBounds>& bounds, const brief::Polar& polar) {
  if (polar.length_is_shock) {
    const Interval lengths = shock_lengths(brief);
    return {lengths.lo - brief.search.eye_error, lengths.hi + brief.search.eye_error};
  }
  if (!polar.as_long_as) return {polar.length.lo, polar.length.hi};
  return distance_between(brief, bounds, polar.as_long_as->first, polar.as_long_as->second);
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
  const auto at = [&](int point) -> PointBounds& { return bounds[static_cast<std::size_t>(point)]; };
  for (const bike::Point& p : brief.layout.mechanism.points) bounds.push_back({widened(p.x, p.x), widened(p.y, p.y)});
  for (const brief::Vary& vary : brief.vary) {
    if (const auto* cartesian = std::get_if<brief::Cartesian>(&vary.place)) {
      const PointBounds from = cartesian->from < 0 ? PointBounds{} : at(cartesian->from);
      at(vary.point) = moved(from, {cartesian->x.lo, cartesian->x.hi}, {cartesian->y.lo, cartesian->y.hi});
    } else if (const auto* polar = std::get_if<brief::Polar>(&vary.place)) {
      const Interval length = length_of(brief, bounds, *polar);
      at(vary.point) = moved(at(polar->from), length * cosine(polar->angle.lo, polar->angle.hi),
                             length * cosine(polar->angle.lo - 90.0, polar->angle.hi - 90.0));
    } else if (const auto* body = std::get_if<brief::OnBody>(&vary.place)) {
      const double far = std::hypot(body->along, body->across) * distance_between(brief, bounds, body->a, body->b).hi;
      at(vary.point) = moved(at(body->a), {-far, far}, {-far, far});
    } else {
      const auto& mirrored = std::get<brief::Mirrored>(vary.place);
      const PointBounds &of = at(mirrored.of), &about = at(mirrored.about);
      if (mirrored.through < 0) {
        const auto image = [](const Interval& i, const Interval& centre) {
          return widened(2.0 * centre.lo - i.hi, 2.0 * centre.hi - i.lo);
        };
        at(vary.point) = {image(of.x, about.x), image(of.y, about.y)};
      } else {
        // As far as the point itself from any point of the line.
        const double far = distance_between(of, about).hi;
        at(vary.point) = moved(about, {-far, far}, {-far, far});
      }
    }
  }
  return bounds;
}

Interval distance_between(const brief::Brief& brief, const std::vector<PointBounds>& bounds, int a, int b) {
  Interval out = distance_between(bounds[static_cast<std::size_t>(a)], bounds[static_cast<std::size_t>(b)]);
  const auto within = [&](const Interval& i) { out = {std::max(out.lo, i.lo), std::min(out.hi, i.hi)}; };
  for (const brief::Vary& vary : brief.vary) {
    const auto from = [&](int point) { return (vary.point == a && point == b) || (vary.point == b && point == a); };
    if (const auto* polar = std::get_if<brief::Polar>(&vary.place); polar != nullptr && from(polar->from)) {
      const Interval length = length_of(brief, bounds, *polar);
      within(widened(length.lo, length.hi));
    }
    if (const auto* near = std::get_if<brief::Cartesian>(&vary.place); near != nullptr && from(near->from))
      within(distance_between(PointBounds{}, {widened(near->x.lo, near->x.hi), widened(near->y.lo, near->y.hi)}));
  }
  return out;
}

Interval distance_from_origin(const PointBounds& b) {
  const auto nearest = [](const Interval& i) { return std::max({i.lo, -i.hi, 0.0}); };
  const auto farthest = [](const Interval& i) { return std::max(std::abs(i.lo), std::abs(i.hi)); };
  return {std::hypot(nearest(b.x), nearest(b.y)), std::hypot(farthest(b.x), farthest(b.y))};
}

Interval distance_between(const PointBounds& a, const PointBounds& b) {
  const auto nearest = [](const Interval& i, const Interval& j) { return std::max({i.lo - j.hi, j.lo - i.hi, 0.0}); };
  const auto farthest = [](const Interval& i, const Interval& j) { return std::max(i.hi - j.lo, j.hi - i.lo); };
  return {std::hypot(nearest(a.x, b.x), nearest(a.y, b.y)), std::hypot(farthest(a.x, b.x), farthest(a.y, b.y))};
}

}  // namespace trammel::search
