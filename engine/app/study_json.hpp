// A study's report for programs.
#pragma once

#include <filesystem>

#include "app/call.hpp"
#include "search/sheet.hpp"

namespace trammel::app {

/// Keys that come beside those of the run's result: the study, its shortlist with every target's verdict, its
/// linkages, and why nothing meets every requirement. Paths start with `folder`.
Json study_json(const search::StudyReport& report, const std::filesystem::path& folder);

}  // namespace trammel::app
