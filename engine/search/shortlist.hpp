// From all committed units to the study as its reader wants it.
#pragma once

#include "search/setup.hpp"
#include "search/sheet.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// "unit-place": a layout's name, stable for a brief and seed.
std::string layout_id(const store::LayoutRow& row);

/// All layouts in order of merit.
std::vector<store::LayoutRow> ranked(const std::vector<store::UnitRow>& units);

/// The best layouts that differ: each at least `distinct` (RMS over the ranges) from every better one of the same
/// choice. At most `count`; layouts that miss a must appear only when no layout meets them all.
std::vector<store::LayoutRow> pick_distinct(const std::vector<store::LayoutRow>& ranked, int count, double distinct);

/// A stand-alone layout judged and traced, for reports and comparisons. Throws bike::MotionFailure.
Sheet make_sheet(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                 const objectives::Packaging& packaging);

/// The whole report of a study, from its file.
StudyReport make_report(const Setup& setup, const store::StudyFile& file, const std::string& study_name);

}  // namespace trammel::search
