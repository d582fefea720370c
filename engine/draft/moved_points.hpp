// Points that come back from CAD or a spreadsheet, in the files that a study writes: pivots.csv and drawing_mm.dxf.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::draft {

/// Places that were read, in frame axes, mm; and what a reader of them should know.
struct MovedPoints {
  std::vector<bike::Point> points;  ///< one for each point of the layout; where nothing was said, where it was
  std::vector<std::string> remarks;
};

/// Where the points are: those that moved by no more than layouts are rounded by stay as they were.
std::vector<bike::Point> settled(std::vector<bike::Point> moved, const std::vector<bike::Point>& before);

/// Reads a file whose name ends in .csv or .dxf. Throws NoWayOn with everything that is wrong with it.
MovedPoints read_moved(const std::filesystem::path& file, const bike::Layout& layout);

/// From the text of a table with a header that has `point` and the places topped out, `x_topped_out_mm` and
/// `y_topped_out_mm` or x and y; columns parted by commas, semicolons or tabs, decimal commas where the columns are not
/// parted by them. Points that are not in it stay.
MovedPoints moved_from_csv(const std::string& text, const std::string& file, const bike::Layout& layout);

/// From the text of a drawing: the points on the layer PIVOTS, told apart by the names on the layer NAMES that were
/// moved along, else by where they were. Its bottom bracket, a point on NAMES, is the origin.
MovedPoints moved_from_dxf(const std::string& text, const std::string& file, const bike::Layout& layout);

}  // namespace trammel::draft
