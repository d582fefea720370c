// Where points can lie topped out, by interval arithmetic over the ranges of a brief.
#pragma once

#include <vector>

#include "brief/brief.hpp"

namespace trammel::search {

using objectives::Interval;

/// A rectangle that holds a point at every value of every variable, frame axes, mm. Never too small; the thousandth of
/// a millimetre to which layouts are rounded is allowed for.
struct PointBounds {
  Interval x, y;
};

/// One for each linkage point.
std::vector<PointBounds> point_bounds(const brief::Brief& brief);

/// Distance from the origin of points in a rectangle.
Interval distance_from_origin(const PointBounds& bounds);
/// Least and greatest distance of two points in their rectangles.
Interval distance_between(const PointBounds& a, const PointBounds& b);
/// Of two linkage points; less wide than what their rectangles allow where one is placed from the other. `bounds`: of
/// all.
Interval distance_between(const brief::Brief& brief, const std::vector<PointBounds>& bounds, int a, int b);

/// Strokes and lengths that the shock may have; the layout has one.
Interval strokes(const brief::Brief& brief);
Interval shock_lengths(const brief::Brief& brief);

}  // namespace trammel::search
