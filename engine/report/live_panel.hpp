// Other places for a layout's pivots, tried in its page by the kernel itself.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// The section with its data, the module among them; nothing in a build without the module. Its script wants
/// `motion_script` before it.
Html live_panel(const search::Sheet& sheet, const brief::Brief& brief);

/// The script; once a page, nothing without the module.
Html live_script();

}  // namespace trammel::report
