// CAD hand-off: a minimal R12 ASCII DXF, the oldest form that every CAD program reads.
#pragma once

#include <string>

#include "search/sheet.hpp"

namespace trammel::report {

/// Layers that the linkage's points and their names are on, topped out; from them moved points are read back.
inline constexpr const char* pivot_layer = "PIVOTS";
inline constexpr const char* name_layer = "NAMES";
/// Where a point's name starts, from the point, mm.
bike::Point name_offset();

/// Lines, circles and names in frame axes, millimetres (R12 has no unit variable: a text says UNITS MM). Layers:
/// topped out LINKS, PIVOTS, SHOCK, FRAME, WHEELS, GROUND, FORK, CHAIN, NAMES; the moving parts again at sag and
/// bottomed on layers that end in _SAG and _BOTTOMED.
std::string drawing_dxf(const search::Sheet& sheet, const bike::Gear* gear);

}  // namespace trammel::report
