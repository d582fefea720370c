#include "objectives/rules/clearances.hpp"

#include <limits>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void Clearances::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t,
                       RuleJudge& out) {
  const auto body = [&](int number) { return demands.packaging.bodies[static_cast<std::size_t>(number)].name; };
  std::size_t k = 0;
  for (std::size_t i = 0; i < demands.packaging.clearances.size() && k < outcome.fit.room.size(); ++i) {
    const Clearance& clearance = demands.packaging.clearances[i];
    for (const int other : clearance.to)
      judge_room(demands, outcome, k++, i, body(clearance.of) + " – " + body(other), clearance.origin, out);
  }
}

std::vector<RuleDemand> Clearances::demands(const Packaging& packaging, const linkage::Mechanism&) {
  std::vector<RuleDemand> out;
  for (std::size_t i = 0; i < packaging.clearances.size(); ++i) {
    const Clearance& clearance = packaging.clearances[i];
    out.push_back({.item = i,
                   .name = "clearance of " + packaging.bodies[static_cast<std::size_t>(clearance.of)].name,
                   .limits = in_words({clearance.least, std::numeric_limits<double>::infinity()}, record.unit),
                   .origin = clearance.origin});
  }
  return out;
}

void Clearances::drop(Packaging& packaging, std::size_t item) {
  packaging.clearances[item].to.clear();
}

void Clearances::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  // As if each body were off like a point.
  for (Clearance& rule : packaging.clearances) rule.least += reserve.of_distance();
}

}  // namespace trammel::objectives::rules
