// How near a point and a segment come while their ends go straight and evenly from one place to another.
//
// The bound is sharp to second order in how far they turn meanwhile: what the segment's direction crosses with the way
// to the point is a quadratic of time, and so are the squared distances from its ends. Derived here.
#pragma once

#include <algorithm>
#include <cmath>

#include "math/distance.hpp"

namespace trammel::math {

/// Where a point is at the beginning and at the end.
struct StraightWay {
  Vec2<double> from, to;
};

namespace detail {

/// The range of constant + linear · t + square · t² for t from 0 to 1.
struct QuadraticRange {
  double least, most;

  QuadraticRange(double constant, double linear, double square) {
    const double end = constant + linear + square;
    least = std::min(constant, end);
    most = std::max(constant, end);
    const double turns_at = square != 0.0 ? -0.5 * linear / square : 0.0;
    if (!(turns_at > 0.0 && turns_at < 1.0)) return;
    const double there = constant + 0.5 * linear * turns_at;
    least = std::min(least, there);
    most = std::max(most, there);
  }
};

/// Products of two vectors that go straight: a + t · da and b + t · db.
inline QuadraticRange range_of_dot(const Vec2<double>& a, const Vec2<double>& da, const Vec2<double>& b,
                                   const Vec2<double>& db) {
  return {dot(a, b), dot(a, db) + dot(da, b), dot(da, db)};
}
inline QuadraticRange range_of_cross(const Vec2<double>& a, const Vec2<double>& da, const Vec2<double>& b,
                                     const Vec2<double>& db) {
  return {cross(a, b), cross(a, db) + cross(da, b), cross(da, db)};
}

}  // namespace detail

/// A lower bound of the distance of a point from a segment, mm, ≥ 0; one whose ends go alike is a point.
inline double least_distance(const StraightWay& p, const StraightWay& start, const StraightWay& end) {
  const Vec2<double> along = end.from - start.from, along_rate = end.to - start.to - along;
  const Vec2<double> off = p.from - start.from, off_rate = p.to - start.to - off;
  const Vec2<double> past = p.from - end.from, past_rate = p.to - end.to - past;
  const auto root_of_least = [](const detail::QuadraticRange& square) {
    return std::sqrt(std::max(square.least, 0.0));
  };
  // Before the one end, behind the other one, or over the segment all the time: then the distance is from that.
  if (detail::range_of_dot(off, off_rate, along, along_rate).most <= 0.0)
    return root_of_least(detail::range_of_dot(off, off_rate, off, off_rate));
  if (detail::range_of_dot(past, past_rate, along, along_rate).least >= 0.0)
    return root_of_least(detail::range_of_dot(past, past_rate, past, past_rate));
  // From the segment's line; no end is nearer than that.
  const detail::QuadraticRange area = detail::range_of_cross(along, along_rate, off, off_rate);
  if (area.least <= 0.0 && area.most >= 0.0) return 0.0;
  return std::min(std::abs(area.least), std::abs(area.most)) /
         std::sqrt(detail::range_of_dot(along, along_rate, along, along_rate).most);
}

}  // namespace trammel::math
