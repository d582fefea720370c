#include "objectives/rules/room.hpp"

#include "objectives/outcome.hpp"

namespace trammel::objectives {

void judge_room(const Demands& demands, const Outcome<double>& outcome, std::size_t k, std::size_t item,
                std::string where, Origin origin, RuleJudge& out) {
  const Least<double>& least = outcome.fit.room[k];
  const double demanded = demands.room.least(k);
  RuleVerdict& verdict = out.add({.item = item,
                                  .achieved = least.value,
                                  .demanded = demanded,
                                  .where = std::move(where),
                                  .inside = least.value - demanded,
                                  .station = least.station,
                                  .origin = origin});
  if (k < outcome.nearest.size()) verdict.at_travel = outcome.nearest[k].travel;
}

}  // namespace trammel::objectives
