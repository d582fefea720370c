#include "objectives/rules/wheel_rises.hpp"

#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void WheelRises::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t,
                       RuleJudge& out) {
  if (!demands.model.has_shock()) return;
  const Least<double>& slope = outcome.fit.slope;
  out.add({.achieved = slope.value,
           .demanded = least,
           .where = "leverage ratio",
           .inside = slope.value - least,
           .station = slope.station});
}

}  // namespace trammel::objectives::rules
