#include "objectives/rules/shock_length.hpp"

#include <cmath>

#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void ShockLength::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t,
                        RuleJudge& out) {
  if (!demands.model.has_shock()) return;
  const double length = drawn(demands.model, outcome.points), wanted = demands.model.layout.shock->length;
  out.add(
      {.achieved = length, .demanded = wanted, .where = "topped out", .inside = tolerance - std::abs(length - wanted)});
}

}  // namespace trammel::objectives::rules
