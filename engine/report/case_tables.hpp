// A layout in its settings and sizes, side by side.
#pragma once

#include <string>
#include <vector>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// "curves-low-M.csv".
std::string curves_file(const search::CaseSheet& one);

/// How a target came out in a case; null where it does not hold there.
const objectives::Verdict* verdict_in(const search::CaseSheet& one, std::size_t target);

/// How a target came out in the case that drawing and curves show; null where it does not hold there.
const objectives::Verdict* drawn_verdict(const search::Sheet& sheet, std::size_t target);

/// Every target by case with its spread, and what else differs between the cases.
Html case_tables(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

}  // namespace trammel::report
