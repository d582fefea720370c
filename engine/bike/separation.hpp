// How far a point is from another, or from a stretch of the line between two: round parts in side view.
#pragma once

#include <vector>

#include "math/distance.hpp"

namespace trammel::bike {

using math::Vec2;

/// A point and what its distance is taken from: another point (`from` and `to` the same), or the line from `from` to
/// `to`, of whose length the shares `first` … `last` count.
struct Separation {
  int point = -1;
  int from = -1;
  int to = -1;
  double first = 0.0;
  double last = 1.0;
};

/// Squared distance at a position of the linkage, mm².
template <class T>
T squared(const Separation& s, const std::vector<Vec2<T>>& position) {
  const Vec2<T>&p = position[static_cast<std::size_t>(s.point)], &a = position[static_cast<std::size_t>(s.from)];
  if (s.from == s.to) return squared_norm(a - p);
  const Vec2<T> line = position[static_cast<std::size_t>(s.to)] - a;
  return math::squared_distance(p, math::Segment<T>{a + line * T(s.first), a + line * T(s.last)});
}

}  // namespace trammel::bike
