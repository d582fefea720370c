#include "bike/closest.hpp"

#include <algorithm>
#include <limits>
#include <optional>

namespace trammel::bike {
namespace {

using linkage::Point;
using Part = BodyOutline::Part;

Point nearest_on(const Part& part, const Point& p) {
  const Point along = part.to - part.from;
  const double length2 = squared_norm(along);
  if (length2 == 0.0) return part.from;
  return part.from + along * std::clamp(dot(p - part.from, along) / length2, 0.0, 1.0);
}

std::optional<Point> crossing(const Part& one, const Part& other) {
  const Point u = one.to - one.from, v = other.to - other.from, way = other.from - one.from;
  const double turn = cross(u, v);
  if (turn == 0.0) return std::nullopt;
  const double on_one = cross(way, v) / turn, on_other = cross(way, u) / turn;
  if (on_one < 0.0 || on_one > 1.0 || on_other < 0.0 || on_other > 1.0) return std::nullopt;
  return one.from + u * on_one;
}

ClosestPoints of_lines(const Part& one, const Part& other) {
  if (const auto point = crossing(one, other)) return {*point, *point, 0.0};
  ClosestPoints best;
  best.apart = std::numeric_limits<double>::infinity();
  const auto take = [&](const Point& on_one, const Point& on_other) {
    if (const double apart = norm(on_other - on_one); apart < best.apart) best = {on_one, on_other, apart};
  };
  for (const Point& end : {one.from, one.to}) take(end, nearest_on(other, end));
  for (const Point& end : {other.from, other.to}) take(nearest_on(one, end), end);
  return best;
}

}  // namespace

ClosestPoints closest(const BodyOutline& one, const BodyOutline& other) {
  ClosestPoints best;
  best.apart = std::numeric_limits<double>::infinity();
  for (const Part& p : one.parts)
    for (const Part& q : other.parts) {
      ClosestPoints found = of_lines(p, q);
      const double lines = found.apart;
      found.apart -= p.radius + q.radius;
      if (!(found.apart < best.apart)) continue;
      if (lines > 0.0) {
        const Point towards = (found.on_other - found.on_one) * (1.0 / lines);
        found.on_one += towards * p.radius;
        found.on_other = found.on_other - towards * q.radius;
      }
      best = found;
    }
  return best;
}

}  // namespace trammel::bike
