// How far a built frame may differ from the drawing.
#pragma once

#include <vector>

#include "bike/layout.hpp"

namespace trammel::brief {

/// Every number is a ±, in mm, ≥ 0. Errors are independent of each other.
struct Tolerances {
  /// How an error is spread: evenly within ±, or normally with ± being `sigmas` standard deviations (and nothing cut
  /// off beyond).
  enum class Law { uniform, normal };

  std::vector<bike::Point> points;  ///< of each linkage point's x and y as drawn
  double shock_length = 0.0;        ///< of the shock, eye to eye
  double rear_wheel = 0.0;          ///< of the radius
  double front_wheel = 0.0;
  Law law = Law::uniform;
  double sigmas = 3.0;  ///< > 0
  int samples = 2000;   ///< frames built to count

  /// The standard deviation of an error of ± `plus_minus`.
  double deviation(double plus_minus) const;
};

}  // namespace trammel::brief
