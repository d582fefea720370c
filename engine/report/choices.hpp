// What a layout owes to its brief: what was chosen from lists, and which of its points follow others.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "search/sheet.hpp"

namespace trammel::report {

/// What a brief, or any of its linkages, offers several of: "shock", "idler", "chainring".
std::vector<std::string> offered(const brief::Brief& brief);
/// Which of them a layout has, in the same order: "210 × 55", teeth; empty where its linkage has none.
std::vector<std::string> chosen(const brief::Brief& brief, const search::Sheet& sheet);
std::vector<std::string> chosen(const brief::Brief& brief, const bike::Layout& layout);

/// Of each point of a layout how its brief ties it to others, as "mirrors tail about rocker"; empty for one that is
/// not.
std::vector<std::string> ties(const brief::Brief& brief, const search::Sheet& sheet);

}  // namespace trammel::report
