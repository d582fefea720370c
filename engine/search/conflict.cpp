#include "search/conflict.hpp"

#include <algorithm>

#include "search/closer_look.hpp"
#include "search/preflight.hpp"
#include "search/unit.hpp"
#include "search/ways.hpp"

namespace trammel::search {
namespace {

/// The one of several ways out in which the same demands give.
std::optional<std::size_t> find_way(const std::vector<WayOut>& ways, const WayOut& wanted) {
  const auto same = [&](const WayOut& way) {
    return std::equal(way.gives.begin(), way.gives.end(), wanted.gives.begin(), wanted.gives.end(),
                      [](const Give& a, const Give& b) { return a.demand == b.demand; });
  };
  const auto found = std::find_if(ways.begin(), ways.end(), same);
  return found == ways.end() ? std::nullopt : std::optional(static_cast<std::size_t>(found - ways.begin()));
}

/// Finds demands that conflict.
class Sets {
 public:
  explicit Sets(CloserLook& look) : look_(look) {}

  /// The smallest set found within demands that cannot all be met; in their order.
  std::vector<Demand> smallest(const std::vector<Demand>& list) {
    for (const std::vector<Demand>& set : found_)
      if (within(set, list)) return set;
    std::vector<Demand> set = grown(list);
    // What holds by default goes first, so that a conflict is told in the brief's own demands where it can be.
    std::vector<Demand> order = set;
    std::stable_partition(order.begin(), order.end(),
                          [](const Demand& d) { return d.origin == objectives::Origin::sound; });
    for (const Demand& demand : order) {
      std::vector<Demand> others = without(set, demand);
      if (look_.meets(others) == nullptr) set = std::move(others);
    }
    found_.push_back(set);
    return set;
  }

 private:
  static bool within(const std::vector<Demand>& set, const std::vector<Demand>& list) {
    return std::all_of(set.begin(), set.end(), [&](const Demand& demand) { return names(list, demand); });
  }

  /// Some of the demands that cannot all be met either: whatever a layout misses that meets those so far joins them.
  std::vector<Demand> grown(const std::vector<Demand>& list) {
    std::vector<Demand> set;
    while (const Known* known = look_.meets(set)) {
      const std::size_t before = set.size();
      for (const Demand& demand : list) {
        const bool missed = std::any_of(known->misses.begin(), known->misses.end(),
                                        [&](const Miss& miss) { return miss.demand == demand; });
        if (missed && !names(set, demand)) set.push_back(demand);
      }
      if (set.size() == before) return list;
    }
    std::vector<Demand> ordered;
    for (const Demand& demand : list)
      if (names(set, demand)) ordered.push_back(demand);
    return ordered;
  }

  CloserLook& look_;
  std::vector<std::vector<Demand>> found_;
};

/// The layouts that meet every must, best first, under names of their own.
std::vector<store::LayoutRow> found_in(const CloserLook& look) {
  std::vector<store::LayoutRow> out;
  for (const Known& known : look.known())
    if (known.misses.empty()) out.push_back(known.row);
  for (std::size_t i = 0; i < out.size(); ++i) out[i].place = static_cast<std::int64_t>(i);
  std::stable_sort(out.begin(), out.end(), ranks_before);
  return out;
}

}  // namespace

Conflict find_conflict(const Setup& setup, std::int64_t linkage, const std::vector<store::LayoutRow>& near,
                       const Effort& effort) {
  const Setup& own = setup.of(linkage);
  effort.say("which demands conflict");
  CloserLook look(setup, linkage, near, effort);
  Conflict out;
  out.linkage = static_cast<std::size_t>(linkage);
  out.units = look.units();
  out.proven = proven_conflicts(own.brief);
  if (look.meets(look.demands()) == nullptr && look.meets({}) != nullptr) {
    Sets sets(look);
    const Ways ways(setup, own, look);
    const std::vector<Demand> conflict = sets.smallest(look.demands());
    for (const Demand& demand : conflict) {
      effort.say("what it takes to meet " + demand.name);
      Concession concession{.demand = demand};
      if (auto way = ways.beginning_with({demand})) {
        concession.way = find_way(out.ways, *way).value_or(out.ways.size());
        if (*concession.way == out.ways.size()) out.ways.push_back(std::move(*way));
      }
      const std::vector<Demand> others = without(look.demands(), demand);
      concession.alone = concession.way && ways.only(out.ways[*concession.way], demand);
      if (!concession.alone && look.meets(others) == nullptr) concession.then = sets.smallest(others);
      if (!concession.way && concession.then.empty()) concession.least = ways.least_miss(demand);
      out.demands.push_back(std::move(concession));
    }
    if (conflict.size() > 1) {
      auto way = ways.beginning_with(conflict);
      if (way && !find_way(out.ways, *way)) out.ways.push_back(std::move(*way));
    }
  }
  out.found = found_in(look);
  if (!out.found.empty()) {  // come upon while others were looked for: then nothing conflicts
    out.demands.clear();
    out.ways.clear();
  }
  return out;
}

}  // namespace trammel::search
