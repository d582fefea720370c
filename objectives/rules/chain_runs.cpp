#include "objectives/rules/chain_runs.hpp"

#include <cmath>

#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void ChainRuns::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t,
                      RuleJudge& out) {
  const std::size_t joints = demands.model.program.joints.size();
  if (demands.model.spans.empty()) return;
  const auto& all = outcome.fit.transmission;
  const auto worst = worst_of(all, joints);
  const auto j = static_cast<std::size_t>(worst - all.begin());
  // margin = 1 − needed² / distance²
  const double needed = demands.model.spans[j - joints].difference;
  const double distance = needed / std::sqrt(1.0 - worst->value);
  out.add({.achieved = distance,
           .demanded = needed,
           .where = demands.model.joint_name(j),
           .inside = distance - needed,
           .station = worst->station});
}

}  // namespace trammel::objectives::rules
