// The layout that a file draws, judged as it stands: before any search, in all its settings and sizes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bike/geometry.hpp"
#include "bike/set_up.hpp"
#include "objectives/guidance.hpp"
#include "objectives/merge.hpp"
#include "objectives/packaging.hpp"

namespace trammel::search {

/// Of one setting in one size.
struct DrawnCase {
  std::string name;                             ///< "low-M"; empty for the layout as drawn
  bike::Layout layout;                          ///< as a layout of its own; where it cannot settle, as drawn
  std::optional<std::string> failure;           ///< why it does not move through its stroke, with joint and travel
  std::optional<bike::GeometryRow> topped_out;  ///< absent at a dead point as drawn
  // Of a layout that moves:
  std::optional<bike::GeometryRow> at_sag;
  double travel = 0.0;                   ///< bottomed, mm
  double least_transmission = 0.0;       ///< degrees
  std::string least_transmission_joint;  ///< its joint's name
  double least_transmission_travel = 0.0;
  std::vector<bike::SetUpRow> set_up;
  std::vector<objectives::Remark> guidance;
  objectives::CaseAssessment judged;  ///< of the targets that hold in it
};

struct Drawn {
  std::vector<DrawnCase> cases;                  ///< at least one
  std::optional<objectives::Assessment> judged;  ///< the worst of each; absent when a case does not move
  bool moves() const { return judged.has_value(); }
};

/// Judges a layout by targets and rules. Throws linkage::CompileFailure when the linkage is none.
Drawn judge_drawn(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                  const objectives::Packaging& packaging);

}  // namespace trammel::search
