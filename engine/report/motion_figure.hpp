// A layout in motion: its scene at every station, for the page to show one at a time.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/html.hpp"
#include "report/json.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// The controls, the places that the script fills, and the data: positions and curves at the stations of the sheet's
/// motion, computed here, so that the page moves nothing by itself. It stays hidden where scripts do not run. `gear` is
/// the one shown first; null without a drivetrain. `others`: layouts that may be shown beside it, by name and script
/// (report/beside.hpp).
Html motion_figure(const search::Sheet& sheet, const brief::Brief& brief, const bike::Gear* gear,
                   const std::vector<std::pair<std::string, std::string>>& others = {});

/// Curves of wheel travel that a page shows as figures, by name, with the digits that a reader needs.
Json curves_json(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

/// The script that shows it; once a page.
Html motion_script();

}  // namespace trammel::report
