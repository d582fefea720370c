// The bike's geometry as it moves: the numbers of a geometry chart at chosen places of the travel.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::bike {

/// One place. Absent values are those that the layout does not give.
struct GeometryRow {
  std::string place;    ///< e.g. "topped out", "at sag"
  double travel = 0.0;  ///< rear wheel travel, mm
  double fork = 0.0;    ///< fork compression, mm
  double head_angle = 0.0;
  std::optional<double> seat_angle, reach, stack, trail;
  double bb_height = 0.0, wheelbase = 0.0, chainstay = 0.0;
};

/// Topped out, at sag, every quarter of the travel, bottomed. With `bike.front.sag` one more: the rear at sag and the
/// fork at its own. Throws MotionFailure when the layout does not move through its stroke.
std::vector<GeometryRow> geometry_chart(const Layout& layout);

}  // namespace trammel::bike
