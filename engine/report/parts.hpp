// Pieces that more than one page uses.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/html.hpp"

namespace trammel::report {

/// The title block at the head of a sheet: a large title and boxes of label and value.
Html title_block(std::string_view kicker, std::string_view title,
                 const std::vector<std::pair<std::string, Html>>& boxes);

/// "✓ met" or "✗ not met", told by sign and word as well as by colour.
Html met_mark(bool met);

/// For the end of a page whose tables may be wider than their boxes: they scroll by keys, too.
Html scroll_script();
Html link_to(const std::string& address, std::string_view words);
Html section(std::string_view title, const Html& content);
/// One that is left out in print.
Html screen_section(std::string_view title, const Html& content);
/// Table cells.
Html cell(std::string_view plain);
Html number_cell(std::string_view plain);
Html head_cell(const Html& content);

}  // namespace trammel::report
