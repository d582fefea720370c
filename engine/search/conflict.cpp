#include "search/conflict.hpp"

#include <algorithm>

#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/shortlist.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

using Kind = Demand::Kind;
using objectives::Interval;

/// What is left of the rule on transmission angles when it is dropped, degrees: a layout must assemble all the same.
constexpr double least_angle = 0.1;

/// Work units of each search, for every discrete choice.
constexpr int units_per_choice = 3;
/// Steps of halving when packaging gives way.
constexpr int halvings = 8;
/// The most that a box gives way, mm.
constexpr double widest = 256.0;

bool same_demand(const std::vector<Demand>& list, const Demand& demand) {
  return std::find(list.begin(), list.end(), demand) != list.end();
}

std::vector<Demand> without(std::vector<Demand> list, const Demand& demand) {
  list.erase(std::remove(list.begin(), list.end(), demand), list.end());
  return list;
}

/// Loosens a demand of a brief in place by `amount` of its unit.
void loosen(brief::Brief& brief, const Demand& demand, double amount) {
  objectives::Packaging& packaging = brief.packaging;
  const auto wider = [&](std::optional<Interval>& side) { *side = {side->lo - amount, side->hi + amount}; };
  switch (demand.kind) {
    case Kind::target: {
      objectives::Target& target = brief.targets[demand.index];
      target.wish.lo -= amount;
      target.wish.hi += amount;
      if (target.wish.kind == objectives::Wish::Kind::value) target.wish.lo += amount;
      if (target.wish.kind == objectives::Wish::Kind::value || target.wish.kind == objectives::Wish::Kind::follow)
        target.tolerance += amount;
      return;
    }
    case Kind::transmission:
      packaging.least_transmission_angle = std::max(least_angle, packaging.least_transmission_angle - amount);
      return;
    case Kind::pivot_distance:
      *packaging.least_pivot_distance = std::max(0.0, *packaging.least_pivot_distance - amount);
      return;
    case Kind::box_x:
      return wider(packaging.boxes[demand.index].x);
    case Kind::box_y:
      return wider(packaging.boxes[demand.index].y);
    case Kind::clearance:
      packaging.clearances[demand.index].least -= amount;
      return;
    case Kind::keep_in:
      packaging.keep_in[demand.index].least -= amount;
      return;
    case Kind::length: {
      objectives::LengthRule& rule = packaging.lengths[demand.index];
      if (rule.least) *rule.least -= amount;
      if (rule.greatest) *rule.greatest += amount;
      return;
    }
  }
}

/// How much a packaging rule could give at all.
double all_of(const brief::Brief& brief, const Demand& demand) {
  if (demand.kind == Kind::transmission) return brief.packaging.least_transmission_angle;
  if (demand.kind == Kind::pivot_distance) return *brief.packaging.least_pivot_distance;
  return widest;
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
      if (demand.kind == Kind::target)
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
    const auto at = static_cast<std::size_t>(std::count_if(
        kept.begin(), kept.end(), [&](const Demand& d) { return d.kind == Kind::target && d.index < demand.index; }));
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
    double lo = 0.0, hi = all_of(setup_.brief, out.demand);
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

namespace {

/// Demands on bodies, regions and lengths.
void add_room(const brief::Brief& brief, std::vector<Demand>& out) {
  const objectives::Packaging& packaging = brief.packaging;
  const auto point = [&](int p) { return brief.layout.mechanism.point_names[static_cast<std::size_t>(p)]; };
  for (std::size_t i = 0; i < packaging.clearances.size(); ++i) {
    const std::string& of = packaging.bodies[static_cast<std::size_t>(packaging.clearances[i].of)].name;
    out.push_back({Kind::clearance, i, "clearance of " + of, "mm", 1.0});
  }
  for (std::size_t i = 0; i < packaging.keep_in.size(); ++i)
    out.push_back({Kind::keep_in, i, "region of " + point(packaging.keep_in[i].point), "mm", 1.0});
  for (std::size_t i = 0; i < packaging.lengths.size(); ++i) {
    const objectives::LengthRule& rule = packaging.lengths[i];
    out.push_back({Kind::length, i, "length " + point(rule.from) + " – " + point(rule.to), "mm", 1.0});
  }
}

/// The rules of `all` whose demands are kept.
template <class Rule>
std::vector<Rule> kept_rules(const std::vector<Rule>& all, Kind kind, const std::vector<Demand>& kept) {
  std::vector<Rule> out;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (same_demand(kept, {kind, i, "", ""})) out.push_back(all[i]);
  return out;
}

}  // namespace

std::vector<Demand> demands_of(const brief::Brief& brief) {
  std::vector<Demand> out;
  const objectives::Packaging& packaging = brief.packaging;
  out.push_back({Kind::transmission, 0, "least transmission angle", "°", 1.0});
  if (packaging.least_pivot_distance) out.push_back({Kind::pivot_distance, 0, "least pivot distance", "mm", 1.0});
  for (std::size_t i = 0; i < packaging.boxes.size(); ++i) {
    const objectives::Box& box = packaging.boxes[i];
    const std::string& point = brief.layout.mechanism.point_names[static_cast<std::size_t>(box.point)];
    if (box.x) out.push_back({Kind::box_x, i, "box of " + point + ", x", "mm", 1.0});
    if (box.y) out.push_back({Kind::box_y, i, "box of " + point + ", y", "mm", 1.0});
  }
  add_room(brief, out);
  for (std::size_t i = 0; i < brief.targets.size(); ++i) {
    const objectives::Target& t = brief.targets[i];
    if (!t.must) continue;
    out.push_back({Kind::target, i, t.name, unit_of(t), t.tolerance});
  }
  return out;
}

brief::Brief reduced(const brief::Brief& brief, const std::vector<Demand>& kept) {
  brief::Brief out = brief;
  out.targets.clear();
  for (std::size_t i = 0; i < brief.targets.size(); ++i)
    if (same_demand(kept, {Kind::target, i, "", ""})) out.targets.push_back(brief.targets[i]);
  if (!same_demand(kept, {Kind::transmission, 0, "", ""})) out.packaging.least_transmission_angle = least_angle;
  if (!same_demand(kept, {Kind::pivot_distance, 0, "", ""})) out.packaging.least_pivot_distance.reset();
  for (std::size_t i = 0; i < out.packaging.boxes.size(); ++i) {
    if (!same_demand(kept, {Kind::box_x, i, "", ""})) out.packaging.boxes[i].x.reset();
    if (!same_demand(kept, {Kind::box_y, i, "", ""})) out.packaging.boxes[i].y.reset();
  }
  out.packaging.clearances = kept_rules(brief.packaging.clearances, Kind::clearance, kept);
  out.packaging.keep_in = kept_rules(brief.packaging.keep_in, Kind::keep_in, kept);
  out.packaging.lengths = kept_rules(brief.packaging.lengths, Kind::length, kept);
  return out;
}

Conflict find_conflict(const Setup& setup, const std::vector<store::LayoutRow>& near, const std::atomic<bool>* stop) {
  return Search(setup, near, stop).run();
}

}  // namespace trammel::search
