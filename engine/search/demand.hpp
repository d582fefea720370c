// What a brief demands: each must and rule by itself, where the brief's text writes its limits, and what a layout
// misses.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "objectives/verdict.hpp"

namespace trammel::search {

/// A must of the brief that could be dropped.
struct Demand {
  std::optional<std::size_t> rule;  ///< number of the packaging rule (objectives/rules/table.hpp); absent of a target
  std::size_t index = 0;            ///< the rule's item, or the target's number
  std::string name = {};            ///< the target's own, or e.g. "box of mount, x"
  std::string unit = {};
  double step = 1.0;        ///< a small amount of it: a target's tolerance, 1 mm, 1°
  std::string limits = {};  ///< of a rule, in words
  objectives::Origin origin = objectives::Origin::brief;

  bool operator==(const Demand& other) const { return rule == other.rule && index == other.index; }
};

/// All of them: packaging first, then targets in the brief's order.
std::vector<Demand> demands_of(const brief::Brief& brief);

/// Whether a list names a demand, and the list without it.
bool names(const std::vector<Demand>& list, const Demand& demand);
std::vector<Demand> without(std::vector<Demand> list, const Demand& demand);

/// The brief with only these demands and no other wish, its ranges and drawn layout as they are.
brief::Brief reduced(const brief::Brief& brief, const std::vector<Demand>& kept);

/// A demand that a layout misses.
struct Miss {
  Demand demand;  ///< with a name only where it is nothing that could be dropped, such as that the wheel rises
  bool can_give = true;
  double achieved = 0.0, by = 0.0;  ///< in the demand's unit
  int way = 0;                      ///< to which side the limit would have to move; 0 = to both, or it cannot be told
  std::string where;                ///< joint, pair of points or of bodies; empty for a target
  double at_travel = 0.0;           ///< mm
  std::string in;                   ///< the case, where there are several
};

/// All demands that a layout misses, in their order, from its assessment by the whole brief.
std::vector<Miss> misses(const brief::Brief& brief, const std::vector<Demand>& demands,
                         const objectives::Assessment& assessment);

}  // namespace trammel::search
