// What tolerances do to a layout: frames built by chance, and slopes.
#pragma once

#include <functional>
#include <vector>

#include "bike/table.hpp"
#include "brief/tolerances.hpp"
#include "objectives/evaluator.hpp"
#include "objectives/packaging.hpp"
#include "objectives/target.hpp"
#include "search/tolerance_sheet.hpp"

namespace trammel::search {

/// What a study of tolerances is about. All must outlive its use.
struct Drawing {
  const bike::Layout& layout;  ///< with its settings and sizes
  const std::vector<objectives::Target>& targets;
  const objectives::Packaging& packaging;
  objectives::InstructionSet instruction_set;
};

/// Builds `tolerances.samples` frames and judges each one; beside it the spread to first order, from slopes. `bands`
/// are the curves whose spread is wanted; each has what it needs. Frames are a function of `seed` and their number
/// alone. `between` is called now and then, and may throw to stop. Throws linkage::CompileFailure.
ToleranceSheet study_tolerances(const Drawing& drawing, const brief::Tolerances& tolerances, std::uint64_t seed,
                                const std::vector<bike::CurveKey>& bands, const std::function<void()>& between);

/// The share of the same frames that keep every must and rule.
Share yield_of(const Drawing& drawing, const brief::Tolerances& tolerances, std::uint64_t seed,
               const std::function<void()>& between);

/// The curves of a table that bands are drawn of: all but the travel, and an instant centre, which may be at infinity.
std::vector<bike::CurveKey> banded(const bike::CurveTable& table);

/// Slopes only: every coordinate counts as ± 1 mm, and no frame is built.
ToleranceSheet study_slopes(const Drawing& drawing);

}  // namespace trammel::search
