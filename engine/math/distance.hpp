// Distances of plane figures: points, segments and polygons, without a choice by data, for every number type.
//
// A distance is signed: where two figures overlap it is negative and tells how deep, so that a search finds its way
// out. All of them are continuous.
#pragma once

#include "math/vec2.hpp"

namespace trammel::math {

template <class T>
struct Segment {
  Vec2<T> from, to;
};

namespace detail {

/// Keeps quotients and roots finite where a segment has no length or two figures touch, mm².
inline constexpr double least_square = 1e-12;

template <class T>
T guarded_root(const T& square) {
  return sqrt(max(square, T(least_square)));
}

}  // namespace detail

/// Squared distance of a point from a segment; one of no length is a point. Source: Ericson, Real-Time Collision
/// Detection (2005), sec. 5.1.2.1 (from memory).
template <class T>
T squared_distance(const Vec2<T>& p, const Segment<T>& s) {
  const Vec2<T> along = s.to - s.from, off = p - s.from;
  const T part = dot(off, along) / max(squared_norm(along), T(detail::least_square));
  return squared_norm(off - along * max(min(part, T(1.0)), T(0.0)));
}

/// How deep two segments cross: the shortest way by which one has to move for them to part; 0 where they do not cross.
///
/// The differences of their points fill a parallelogram whose sides are the segments. They cross where it holds the
/// origin, and the way out is the origin's distance from the nearest side, that is of an end of one segment from the
/// line of the other. Source for differences of convex sets: Ericson, sec. 9.1 (from memory).
template <class T>
T crossing_depth(const Segment<T>& s, const Segment<T>& t) {
  const Vec2<T> u = s.to - s.from, v = t.to - t.from;
  const T from_s = cross(u, t.from - s.from), to_s = cross(u, t.to - s.from);
  const T from_t = cross(v, s.from - t.from), to_t = cross(v, s.to - t.from);
  const T by_s = min(abs(from_s), abs(to_s)) / detail::guarded_root(squared_norm(u));
  const T by_t = min(abs(from_t), abs(to_t)) / detail::guarded_root(squared_norm(v));
  const T depth = min(by_s, by_t);
  return select(from_s * to_s < T(0.0), select(from_t * to_t < T(0.0), depth, T(0.0)), T(0.0));
}

/// Squared distance of two segments that do not cross.
template <class T>
T squared_distance(const Segment<T>& s, const Segment<T>& t) {
  return min(min(squared_distance(s.from, t), squared_distance(s.to, t)),
             min(squared_distance(t.from, s), squared_distance(t.to, s)));
}

/// Signed distance of a point from a polygon's border, negative inside. side(i) gives its sides 0 … n − 1 in order.
/// Inside or not is told by the parity of the sides to the right of the point. Source: O'Rourke, Computational Geometry
/// in C, 2nd ed. (1998), sec. 7.4 (from memory).
template <class T, class Side>
T distance_outside(const Vec2<T>& p, std::size_t n, Side side) {
  T nearest(1e18), sign(1.0);
  for (std::size_t i = 0; i < n; ++i) {
    const Segment<T> s = side(i);
    nearest = min(nearest, squared_distance(p, s));
    const T from = select(p.y < s.from.y, T(1.0), T(-1.0)), to = select(p.y < s.to.y, T(1.0), T(-1.0));
    // ±2 where the side passes the point's height, by its direction; positive then where it does so to the right.
    const T passes = (to - from) * cross(s.to - s.from, p - s.from);
    sign = sign * select(T(0.0) < passes, T(-1.0), T(1.0));
  }
  return detail::guarded_root(nearest) * sign;
}

}  // namespace trammel::math
