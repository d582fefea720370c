// What the charts of index.html read.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// JSON that is safe inside a <script> element: `<` only as \u003c, no NaN, no infinity (null instead).
/// { total, axes: [{label, kind, lo?, hi?}], rows: [{id, feasible, rank, values}] }; lo and hi are the limits wished
/// of a target (absent for a path), or the range of a varied value.
Html chart_data(const search::StudyReport& study);

}  // namespace trammel::report
