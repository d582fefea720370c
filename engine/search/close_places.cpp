#include "search/close_places.hpp"

#include <algorithm>

#include "bike/table.hpp"
#include "objectives/rules/table.hpp"

namespace trammel::search {
namespace {

/// A pair of bodies with its verdict.
struct Judged {
  bike::Gap gap;
  const objectives::RuleVerdict* verdict;
  double spare() const { return verdict->achieved - verdict->demanded; }
};

}  // namespace

std::vector<ClosePlace> close_places(const bike::Layout& layout, const objectives::Packaging& packaging,
                                     const objectives::Assessment& assessment) {
  if (packaging.clearances.empty()) return {};
  const bike::Room room = objectives::room_of(bike::make_model(layout), packaging);
  std::vector<Judged> pairs;  // verdicts on clearances stand in the order of the gaps
  for (const objectives::RuleVerdict& rule : assessment.rules)
    if (rule.rule == objectives::rule_number<objectives::rules::Clearances>)
      pairs.push_back({room.gaps()[pairs.size()], &rule});
  std::stable_sort(pairs.begin(), pairs.end(), [](const Judged& a, const Judged& b) { return a.spare() < b.spare(); });
  std::vector<ClosePlace> out;
  for (const Judged& pair : pairs) {
    if (!out.empty() && pair.verdict->met) break;
    const objectives::RuleVerdict& verdict = *pair.verdict;
    const bike::Pose pose = bike::pose_at_travel(layout, verdict.at_travel);
    const auto all = bike::body_outlines(layout, packaging.bodies, pose.points);
    const bike::BodyOutline &one = all[static_cast<std::size_t>(pair.gap.body)],
                            &other = all[static_cast<std::size_t>(pair.gap.other)];
    const bike::ClosestPoints points = bike::closest(one, other);
    out.push_back({verdict.where,
                   verdict.achieved,
                   verdict.at_travel,
                   verdict.met,
                   points.on_one,
                   points.on_other,
                   {one, other}});
  }
  return out;
}

}  // namespace trammel::search
