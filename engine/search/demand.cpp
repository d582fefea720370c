#include "search/demand.hpp"

#include <algorithm>
#include <cmath>

#include "objectives/rules/table.hpp"

namespace trammel::search {

using objectives::Wish;

std::vector<Demand> demands_of(const brief::Brief& brief) {
  std::vector<Demand> out;
  for (std::size_t r = 0; r < objectives::rule_count; ++r) {
    const objectives::RuleFunctions& rule = objectives::rule_table()[r];
    for (objectives::RuleDemand& d : rule.demands(brief.packaging, brief.layout.mechanism))
      out.push_back(
          {r, d.item, std::move(d.name), std::string(rule.record->unit), d.step, std::move(d.limits), d.origin});
  }
  for (std::size_t i = 0; i < brief.targets.size(); ++i) {
    const objectives::Target& t = brief.targets[i];
    if (t.must) out.push_back({{}, i, t.name, unit_of(t), t.tolerance, {}, t.origin});
  }
  return out;
}

bool names(const std::vector<Demand>& list, const Demand& demand) {
  return std::find(list.begin(), list.end(), demand) != list.end();
}

std::vector<Demand> without(std::vector<Demand> list, const Demand& demand) {
  list.erase(std::remove(list.begin(), list.end(), demand), list.end());
  return list;
}

brief::Brief reduced(const brief::Brief& brief, const std::vector<Demand>& kept) {
  brief::Brief out = brief;
  out.search.yield.reset();  // room for errors is not what is asked
  out.targets.clear();
  for (std::size_t i = 0; i < brief.targets.size(); ++i)
    if (names(kept, {{}, i})) out.targets.push_back(brief.targets[i]);
  // From the last on: a rule may number what is left anew.
  const std::vector<Demand> all = demands_of(brief);
  for (auto demand = all.rbegin(); demand != all.rend(); ++demand)
    if (demand->rule && !names(kept, *demand))
      objectives::rule_table()[*demand->rule].drop(out.packaging, demand->index);
  return out;
}

std::vector<Miss> misses(const brief::Brief& brief, const std::vector<Demand>& demands,
                         const objectives::Assessment& assessment) {
  std::vector<Miss> out;
  for (const objectives::RuleVerdict& rule : assessment.rules) {
    if (rule.met) continue;
    const auto found = std::find(demands.begin(), demands.end(), Demand{rule.rule, rule.item});
    Miss miss;
    miss.can_give = found != demands.end();
    miss.demand = miss.can_give ? *found : Demand{rule.rule, rule.item, rule.name, rule.unit};
    miss.achieved = rule.achieved;
    miss.by = std::abs(rule.demanded - rule.achieved);
    miss.way = rule.achieved < rule.demanded ? -1 : 1;
    miss.where = rule.where;
    miss.at_travel = rule.at_travel;
    miss.in = rule.in;
    // Of several pairs of bodies the worst speaks for the demand.
    const auto known = std::find_if(out.begin(), out.end(), [&](const Miss& m) { return m.demand == miss.demand; });
    if (known == out.end())
      out.push_back(std::move(miss));
    else if (known->by < miss.by)
      *known = std::move(miss);
  }
  for (const Demand& demand : demands) {
    if (demand.rule || assessment.targets[demand.index].met) continue;
    const objectives::Verdict& v = assessment.targets[demand.index];
    const Wish& wish = brief.targets[demand.index].wish;
    const bool around = wish.kind == Wish::Kind::value || wish.kind == Wish::Kind::follow;
    const int way = around                           ? 0
                    : wish.kind == Wish::Kind::over  ? -1
                    : wish.kind == Wish::Kind::under ? 1
                    : v.achieved < wish.lo           ? -1
                                                     : 1;
    out.push_back({demand, true, v.achieved, v.violation, way, {}, v.at_travel, v.in});
  }
  return out;
}

}  // namespace trammel::search
