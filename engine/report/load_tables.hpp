// Tables of a layout's page about springs, loads and geometry.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

Html geometry_table(const search::Sheet& sheet, bool in_inches = false);
/// Which spring each rider needs, and how far off the nearest one is.
Html set_up_table(const search::Sheet& sheet);
/// The greatest force at every pivot and in the shock, case by case, with its caution.
Html loads_table(const search::Sheet& sheet);

}  // namespace trammel::report
