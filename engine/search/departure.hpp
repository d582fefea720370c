// What a measure that looks at two places leaves unsaid: how far the curve is off the straight line between them.
#pragma once

#include <optional>

#include "bike/table.hpp"
#include "objectives/target.hpp"

namespace trammel::search {

struct Departure {
  double amount = 0.0;     ///< greatest distance along the curve's value, in its unit, ≥ 0
  double at_travel = 0.0;  ///< wheel travel there, mm
};

/// Of a target on a measure between two places of a curve in `curves`, at the stations of that table; absent for any
/// other target, and where the curve has no value at a place between.
std::optional<Departure> departure_of(const objectives::Target& target, const bike::Layout& layout,
                                      const bike::CurveTable& curves);

}  // namespace trammel::search
