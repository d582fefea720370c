// The notes of a brief and of its targets on a page.
#pragma once

#include <string>
#include <string_view>

#include "brief/brief.hpp"
#include "report/html.hpp"

namespace trammel::report {

/// Notes as they stand, line by line; nothing without any.
Html notes_text(std::string_view notes);

/// A section with the notes of a brief and those of its targets by their names; nothing without any.
Html notes_section(const brief::Brief& brief);

/// Their beginning in one line, for a page that has no room for all; with "…" where more follows.
std::string notes_in_short(std::string_view notes);

}  // namespace trammel::report
