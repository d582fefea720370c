// Dimensions of many points from one origin, written along two edges of a view.
#pragma once

#include <vector>

#include "report/drafting_sheet.hpp"

namespace trammel::report {

/// Places, as near as they can be to those wished for (rising), that are `apart` at least: groups that would overlap
/// share their shift.
std::vector<double> spread_apart(const std::vector<double>& wished, double apart);

/// The x of every point along the line below the view and the y along that at its left, rounded to 0.01 mm; what points
/// have in common is written once. `corner`, on paper: where the two lines of numbers cross. After ISO 129-1, from
/// memory: dimensions from a common origin, each at the end of its extension line.
void draw_ordinates(DraftingSheet& sheet, const std::vector<bike::Point>& points, bike::Point corner);

}  // namespace trammel::report
