// A layout in motion: its scene at every station, for the page to show one at a time.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// The controls, the places that the script fills, and the data: positions and curves at the stations of the sheet's
/// motion, computed here, so that the page moves nothing by itself. It stays hidden where scripts do not run. `gear` is
/// the one shown first; null without a drivetrain.
Html motion_figure(const search::Sheet& sheet, const brief::Brief& brief, const bike::Gear* gear);

/// The script that shows it; once a page.
Html motion_script();

}  // namespace trammel::report
