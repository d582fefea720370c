// What must fit: rules on points and joints that hold whatever the ride feel.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bike/bodies.hpp"
#include "math/interval.hpp"
#include "objectives/origin.hpp"

namespace trammel::objectives {

using math::Interval;

/// A box that a point must lie in, topped out, frame axes, mm.
struct Box {
  int point = -1;
  std::optional<Interval> x;
  std::optional<Interval> y;
};

/// Least distance of one body from others over the whole stroke.
struct Clearance {
  int of = -1;          ///< number of the body
  std::vector<int> to;  ///< numbers of the others
  double least = 0.0;   ///< mm
  Origin origin = Origin::brief;
};

/// A polygon of the frame that a point must not leave over the whole stroke.
struct KeepIn {
  int point = -1;
  std::vector<linkage::Point> corners;  ///< frame axes, mm
  double least = 0.0;                   ///< distance from its border, mm
};

/// Least and greatest distance of two points as drawn, mm: a link's length. Points on one member keep it.
struct LengthRule {
  int from = -1;
  int to = -1;
  std::optional<double> least, greatest;
};

struct Packaging {
  std::vector<Box> boxes;
  /// Least distance between any two pivots over the whole stroke, mm; absent = no rule. Pivots are the points shared
  /// by members and the two shock eyes.
  std::optional<double> least_pivot_distance;
  Origin pivot_distance_origin = Origin::brief;
  /// Least transmission angle at any joint over the whole stroke, degrees, 0 < angle < 90.
  double least_transmission_angle = 10.0;
  Origin transmission_angle_origin = Origin::brief;
  // Round parts that every bike has, over the whole stroke, mm; absent = no rule.
  std::optional<double> tyre_clearance;   ///< least distance of the rear tyre from the frame's pivots and the shock
  std::optional<double> shock_clearance;  ///< least distance of the shock from the frame's other pivots
  /// Most that a must of the brief may move, in its tolerances per half a millimetre of any coordinate; absent = no
  /// rule.
  std::optional<double> sensitivity;
  std::vector<bike::Body> bodies;
  std::vector<Clearance> clearances;
  std::vector<KeepIn> keep_in;
  std::vector<LengthRule> lengths;
};

}  // namespace trammel::objectives
