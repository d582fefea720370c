#include "objectives/rules/room.hpp"

#include <cstdio>

#include "objectives/outcome.hpp"
#include "objectives/rules/clearances.hpp"
#include "objectives/rules/regions.hpp"

namespace trammel::objectives {
namespace {

// What may hide counts by it, and how closely a judgement looks (RoomWanted::decisive).
static_assert(rules::Clearances::record.depth == rules::Regions::record.depth);

/// The stroke could not be searched to the end: what may hide there counts, and is said.
void in_doubt(RuleVerdict& verdict, double hidden) {
  char text[64];
  std::snprintf(text, sizeof text, " (may be %.2g mm less elsewhere)", hidden);
  verdict.where += text;
  verdict.met = verdict.met && verdict.achieved - hidden >= verdict.demanded;
  verdict.margin -= hidden / rules::Clearances::record.depth;
}

}  // namespace

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
  if (k >= outcome.nearest.size()) return;
  const Nearest& nearest = outcome.nearest[k];
  verdict.at_travel = nearest.travel;
  if (nearest.accuracy > room_accuracy) in_doubt(verdict, nearest.accuracy);
}

}  // namespace trammel::objectives
