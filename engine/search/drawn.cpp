#include "search/drawn.hpp"

#include <algorithm>

#include "bike/cases.hpp"
#include "bike/table.hpp"
#include "search/score.hpp"
#include "search/setup.hpp"

namespace trammel::search {
namespace {

/// The chart's first line, also of a layout that does not get through its stroke: it is moved by a thousandth only.
std::optional<bike::GeometryRow> topped_out(bike::Layout layout) {
  layout.mechanism.drive.range *= 1e-3;
  if (layout.shock) layout.shock->stroke = layout.mechanism.drive.range;
  try {
    return bike::geometry_chart(layout).front();
  } catch (const bike::MotionFailure&) {
    return std::nullopt;
  }
}

DrawnCase judge_case(const bike::Layout& layout, const CaseSetup& one, const objectives::Packaging& packaging) {
  DrawnCase out;
  out.name = one.name;
  out.layout = bike::layout_of(layout, one.which);
  out.topped_out = topped_out(out.layout);
  try {
    const bike::Motion motion = bike::trace(out.layout, 2, true);
    out.travel = motion.poses.back().travel;
    out.least_transmission = motion.least_transmission;
    out.least_transmission_joint = motion.least_transmission_joint;
    out.least_transmission_travel = motion.least_transmission_travel;
  } catch (const bike::MotionFailure& failure) {
    out.failure = failure.text;
    return out;
  }
  out.at_sag = bike::geometry_chart(out.layout)[1];
  out.set_up = bike::set_up(out.layout);
  out.guidance = objectives::remarks(out.layout);
  out.judged = {one.name, one.numbers, assess_layout(out.layout, one.targets, packaging)};
  return out;
}

}  // namespace

Drawn judge_drawn(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                  const objectives::Packaging& packaging) {
  Drawn out;
  std::vector<objectives::CaseAssessment> judged;
  for (const CaseSetup& one : cases_of(layout, targets)) {
    out.cases.push_back(judge_case(layout, one, packaging));
    judged.push_back(out.cases.back().judged);
  }
  const auto fails = [](const DrawnCase& one) { return one.failure.has_value(); };
  if (std::none_of(out.cases.begin(), out.cases.end(), fails))
    out.judged = judged.size() == 1 ? judged.front().assessment
                                    : objectives::merged(judged, targets, objectives::comparisons_of(layout, targets));
  return out;
}

}  // namespace trammel::search
