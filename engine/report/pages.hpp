// The pages of a report, as finished text.
#pragma once

#include <string>
#include <vector>

#include "report/html.hpp"
#include "report/standing.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// Folder name of a shortlisted layout: "01", "02", …
std::string folder_of(const search::Sheet& sheet);

/// The study's first page: summary, ranking, charts, failures, the brief.
std::string index_page(const search::StudyReport& study);

/// A layout's own page. `yaml` is its layout file, shown as it is.
std::string layout_page(const search::StudyReport& study, const search::Sheet& sheet, const Standing& standing,
                        const std::string& yaml);

/// One sheet of A4 on a layout, for whoever is to ride it.
std::string summary_page(const search::StudyReport& study, const search::Sheet& sheet, const Standing& standing);

/// The families of layouts that meet every must; there is at least one.
Html families_section(const search::StudyReport& study);
/// How many there are, in a sentence; nothing without any.
std::string families_in_short(const search::Families& all);

/// Why nothing meets every must: proofs, the nearest layouts with what each misses, the demands that conflict.
Html conflict_section(const search::StudyReport& study);

/// The references and where the shortlist stands among them.
Html reference_section(const search::StudyReport& study);
/// Where one layout stands among them, a sentence a target; nothing without references.
Html reference_words(const search::StudyReport& study, const search::Sheet& sheet);

/// Layouts side by side, with what is noted on each where that is given.
std::string comparison_page(const std::vector<search::Sheet>& sheets, const std::vector<std::string>& notes);

}  // namespace trammel::report
