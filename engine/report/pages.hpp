// The pages of a report, as finished text.
#pragma once

#include <string>
#include <vector>

#include "search/sheet.hpp"

namespace trammel::report {

/// Folder name of a shortlisted layout: "01", "02", …
std::string folder_of(const search::Sheet& sheet);

/// The study's first page: summary, ranking, charts, failures, the brief.
std::string index_page(const search::StudyReport& study);

/// A layout's own page; `at` is its place in the shortlist. `yaml` is its layout file, shown as it is.
std::string layout_page(const search::StudyReport& study, std::size_t at, const std::string& yaml);

/// Layouts side by side.
std::string comparison_page(const std::vector<search::Sheet>& sheets);

}  // namespace trammel::report
