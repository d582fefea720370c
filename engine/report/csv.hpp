// Comma-separated tables after RFC 4180: CRLF, a header row, quotes where a field needs them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "search/sheet.hpp"

namespace trammel::report {

/// One record with its line end. Text that a spreadsheet would take for a formula is led by an apostrophe.
std::string csv_record(const std::vector<std::string>& fields);

/// A number with the digits that read back to it; an absent or meaningless one is an empty cell.
std::string csv_number(const std::optional<double>& x);

/// point, members, x and y topped out, at sag and bottomed, in frame axes, mm.
std::string pivots_csv(const search::Sheet& sheet, bool inches_too = false);

/// place, travel, fork compression, angles and lengths of the geometry chart.
std::string geometry_csv(const search::Sheet& sheet);

/// One record a rider: load at the wanted sag, spring wanted and offered, sag that it gives. Empty text without set-up.
std::string set_up_csv(const search::Sheet& sheet);

/// One record a load case, travel and pivot, with the shock as one more. Empty text without load cases.
std::string loads_csv(const search::Sheet& sheet);

/// rank, id, score, margin, must_margin, wish_margin, musts_met, with several linkages the linkage, a column a target
/// with its achieved value, a column a varied value, with tolerances the yield, what the layout is best at and what it
/// costs.
std::string shortlist_csv(const search::StudyReport& study);

/// name, then a column a target with what the reference achieves; empty where it cannot be judged.
std::string references_csv(const search::StudyReport& study);

/// The members that carry a point, in the layout's order.
std::vector<std::string> members_at(const bike::Layout& layout, int point);

}  // namespace trammel::report
