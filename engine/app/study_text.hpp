// What a terminal is told of a study's report.
#pragma once

#include <filesystem>

#include "search/sheet.hpp"

namespace trammel::app {

/// Prints in short what the report in a folder says.
void print_report(const search::StudyReport& report, const std::filesystem::path& folder);

}  // namespace trammel::app
