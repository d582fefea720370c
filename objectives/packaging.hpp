// What must fit: rules on points and joints that hold whatever the ride feel.
#pragma once

#include <optional>
#include <vector>

namespace trammel::objectives {

struct Interval {
  double lo = 0.0;
  double hi = 0.0;
};

/// A box that a point must lie in, topped out, frame axes, mm.
struct Box {
  int point = -1;
  std::optional<Interval> x;
  std::optional<Interval> y;
};

struct Packaging {
  std::vector<Box> boxes;
  /// Least distance between any two pivots over the whole stroke, mm; absent = no rule. Pivots are the points shared
  /// by members and the two shock eyes.
  std::optional<double> least_pivot_distance;
  /// Least transmission angle at any joint over the whole stroke, degrees, 0 < angle < 90.
  double least_transmission_angle = 10.0;
};

}  // namespace trammel::objectives
