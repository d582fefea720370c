#include "search/conflict.hpp"

#include <algorithm>

#include "objectives/rules/table.hpp"
#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/shortlist.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

/// Work units of each search, for every discrete choice.
constexpr int units_per_choice = 3;
/// Steps of halving when packaging gives way.
constexpr int halvings = 8;

bool same_demand(const std::vector<Demand>& list, const Demand& demand) {
  return std::find(list.begin(), list.end(), demand) != list.end();
}

std::vector<Demand> without(std::vector<Demand> list, const Demand& demand) {
  list.erase(std::remove(list.begin(), list.end(), demand), list.end());
  return list;
}

/// Loosens a demand of a brief in place by `amount` of its unit.
void loosen(brief::Brief& brief, const Demand& demand, double amount) {
  if (demand.rule) {
    objectives::rule_table()[*demand.rule].loosen(brief.packaging, demand.index, amount);
    return;
  }
  objectives::Target& target = brief.targets[demand.index];
  target.wish.lo -= amount;
  target.wish.hi += amount;
  if (target.wish.kind == objectives::Wish::Kind::value) target.wish.lo += amount;
  if (target.wish.kind == objectives::Wish::Kind::value || target.wish.kind == objectives::Wish::Kind::follow)
    target.tolerance += amount;
}

class Search {
 public:
  Search(const Setup& setup, const std::vector<store::LayoutRow>& near, const std::atomic<bool>* stop)
      : setup_(setup), near_(near), stop_(stop), demands_(demands_of(setup.brief)) {
    units_ = units_per_choice * setup.design.choices();
  }

  Conflict run() {
    Conflict out;
    out.units = units_;
    out.proven = proven_conflicts(setup_.brief);
    out.found = meets(setup_.brief, demands_);
    if (out.found) return out;
    std::vector<Demand> conflict = demands_;
    std::vector<std::pair<Demand, Witness>> shown;
    for (const Demand& demand : demands_) {
      const std::vector<Demand> others = without(conflict, demand);
      if (const auto witness = meets(setup_.brief, others))
        shown.emplace_back(demand, *witness);
      else
        conflict = others;
    }
    for (const Demand& demand : conflict) {
      Concession concession;
      concession.demand = demand;
      // Better still one that meets all the brief's other demands as well.
      concession.dropped = meets(setup_.brief, without(demands_, demand));
      concession.all_others = concession.dropped.has_value();
      for (const auto& [dropped, witness] : shown)
        if (!concession.dropped && dropped == demand) concession.dropped = witness;
      const std::vector<Demand>& kept = concession.all_others ? demands_ : conflict;
      if (!demand.rule)
        relax_target(kept, conflict, concession);
      else
        relax_packaging(kept, concession);
      out.demands.push_back(std::move(concession));
    }
    return out;
  }

 private:
  /// The best layout of a short search of a brief made from the study's, by that brief.
  std::optional<store::LayoutRow> best(const brief::Brief& brief, bool all_units) const {
    const Setup setup(brief);
    std::optional<store::LayoutRow> best;
    for (int unit = 0; unit < units_; ++unit) {
      const std::optional<store::UnitRow> row = run_unit(setup, unit, stop_);
      if (!row) throw Stopped();
      for (const store::LayoutRow& layout : row->layouts)
        if (!best || ranks_before(layout, *best)) best = layout;
      if (!all_units && best && best->musts_met == best->musts) break;
    }
    return best;
  }

  Witness witness(const store::LayoutRow& row) const {
    const int choice = static_cast<int>(row.choice);
    return {row.design, choice, setup_.design.layout(row.design, choice),
            Scorer(setup_, choice).assessment(row.design)};
  }

  /// A layout that meets these demands of `brief`: one of the study's own, or one that a short search finds.
  std::optional<Witness> meets(const brief::Brief& brief, const std::vector<Demand>& demands) const {
    const brief::Brief only = reduced(brief, demands);
    const Setup setup(only);
    for (const store::LayoutRow& row : near_)
      if (Scorer(setup, static_cast<int>(row.choice)).assessment(row.design).feasible()) return witness(row);
    const auto row = best(only, false);
    if (row && row->musts_met == row->musts) return witness(*row);
    return std::nullopt;
  }

  /// The least by which a target misses its limits while the others of the conflict are kept: the others are musts, it
  /// is the one wish.
  std::optional<std::pair<double, store::LayoutRow>> least_miss(const brief::Brief& brief,
                                                                const std::vector<Demand>& kept,
                                                                const Demand& demand) const {
    brief::Brief wished = reduced(brief, kept);
    const auto at = static_cast<std::size_t>(
        std::count_if(kept.begin(), kept.end(), [&](const Demand& d) { return !d.rule && d.index < demand.index; }));
    wished.targets[at].must = false;
    wished.targets[at].weight = 1.0;
    const auto row = best(wished, true);
    if (!row || row->musts_met != row->musts) return std::nullopt;
    const Setup setup(wished);
    return std::pair(Scorer(setup, static_cast<int>(row->choice)).assessment(row->design).targets[at].violation, *row);
  }

  void relax_target(const std::vector<Demand>& kept, const std::vector<Demand>& conflict, Concession& out) const {
    // The layout with the demand dropped shows that so much is enough; a search with the demand as a wish shows less.
    if (out.dropped) {
      out.amount = out.dropped->assessment.targets[out.demand.index].violation;
      out.relaxed = out.dropped;
    }
    const auto least = least_miss(setup_.brief, kept, out.demand);
    if (least && (!out.amount || least->first <= *out.amount)) {
      out.amount = least->first;
      out.relaxed = witness(least->second);
    }
    if (!out.amount) return;
    for (const Demand& other : conflict) {
      if (other == out.demand) continue;
      brief::Brief looser = setup_.brief;
      loosen(looser, other, other.step);
      const auto less = least_miss(looser, kept, out.demand);
      // Loosening can only help: where the second search did worse, it was the weaker one.
      out.rates.push_back(less ? std::max(0.0, *out.amount - less->first) / other.step : 0.0);
    }
  }

  void relax_packaging(const std::vector<Demand>& kept, Concession& out) const {
    double lo = 0.0, hi = out.demand.most;
    for (int i = 0; i < halvings; ++i) {
      const double amount = 0.5 * (lo + hi);
      brief::Brief looser = setup_.brief;
      loosen(looser, out.demand, amount);
      if (auto enough = meets(looser, kept)) {
        hi = amount;
        out.amount = amount;
        out.relaxed = std::move(enough);
      } else {
        lo = amount;
      }
    }
  }

  const Setup& setup_;
  const std::vector<store::LayoutRow>& near_;
  const std::atomic<bool>* stop_;
  std::vector<Demand> demands_;
  int units_ = 0;
};

}  // namespace

std::vector<Demand> demands_of(const brief::Brief& brief) {
  std::vector<Demand> out;
  for (std::size_t r = 0; r < objectives::rule_count; ++r) {
    const objectives::RuleFunctions& rule = objectives::rule_table()[r];
    for (objectives::RuleDemand& d : rule.demands(brief.packaging, brief.layout.mechanism))
      out.push_back({r, d.item, std::move(d.name), std::string(rule.record->unit), d.step, d.most, std::move(d.limits),
                     d.origin});
  }
  for (std::size_t i = 0; i < brief.targets.size(); ++i) {
    const objectives::Target& t = brief.targets[i];
    if (t.must) out.push_back({{}, i, t.name, unit_of(t), t.tolerance, 0.0, {}, t.origin});
  }
  return out;
}

brief::Brief reduced(const brief::Brief& brief, const std::vector<Demand>& kept) {
  brief::Brief out = brief;
  out.targets.clear();
  for (std::size_t i = 0; i < brief.targets.size(); ++i)
    if (same_demand(kept, {{}, i})) out.targets.push_back(brief.targets[i]);
  // From the last on: a rule may number what is left anew.
  const std::vector<Demand> all = demands_of(brief);
  for (auto demand = all.rbegin(); demand != all.rend(); ++demand)
    if (demand->rule && !same_demand(kept, *demand))
      objectives::rule_table()[*demand->rule].drop(out.packaging, demand->index);
  return out;
}

Conflict find_conflict(const Setup& setup, const std::vector<store::LayoutRow>& near, const std::atomic<bool>* stop) {
  return Search(setup, near, stop).run();
}

}  // namespace trammel::search
