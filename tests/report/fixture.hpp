// An invented study for the report's tests: a four-bar with the axle on its coupler, moved by formulas of its own, so
// that the report is tested without the kernel. The numbers look like a bike; nothing here is a real one.
#pragma once

#include "search/sheet.hpp"

namespace trammel::test {

bike::Layout invented_layout();

/// Moves the layout of `invented_layout` (or one with other points) and fills a sheet, targets judged.
search::Sheet invented_sheet(const bike::Layout& layout, int stations);

/// Four layouts, two of them short of a must; 200 marks of 48 312 kept.
search::StudyReport invented_study();
/// The same with a front between its first two targets, through its shortlisted layouts.
search::StudyReport study_with_front();
/// The page of a shortlisted layout, from 0.
std::string page_of(const search::StudyReport& study, std::size_t at);

/// The same with text that would break a page, a file or a script if it were not escaped.
search::StudyReport hostile_study();

/// The same study of three linkages: one that can, one whose nearest layout misses a must, and one without any layout.
search::StudyReport linkages_study();

}  // namespace trammel::test
