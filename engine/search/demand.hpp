// What a brief demands: each must and rule by itself, where the brief's text writes its limits, and what a layout
// misses.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "brief/edit.hpp"
#include "brief/marked_tree.hpp"
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

/// A number of the brief's text that limits a demand, in the unit in which the brief gives it.
struct Limit {
  std::string path = {};  ///< where it stands, or would if it were not left out: "targets[2].band[0]"
  double value = 0.0;     ///< as it stands, or by default
  int way = 1;            ///< it gives way by rising (1) or by falling (−1)
  std::string unit = {};  ///< "teeth" where teeth were given
  double scale = 1.0;     ///< what one of that unit is in the unit of the verdict
  bool whole = false;     ///< it has no fractions
  bool around = false;    ///< it is a distance to both sides: the tolerance of a value or path
  double other = 0.0;     ///< where the path ends in a number: the other end of the interval
  /// Of what holds by default, what the brief may give; further out it can only be dropped.
  std::optional<objectives::Interval> allowed = {};
  int decimals = 1;  ///< places that show a tenth of a small amount

  /// The smallest amount that is told apart.
  double unit_amount() const;
  /// The least amount to give, a number with so many decimals, that makes up for a miss.
  double amount_for(double miss) const;
  /// The value once it has given an amount.
  double given(double amount) const;
};

/// The change that makes a limit give an amount, in a text that this is the tree of; with an infinite amount it is
/// dropped, as what holds by default can be.
brief::Change change_for(const Limit& limit, double amount, const brief::Node& text);

/// Where the text of a brief writes the limits of one of its demands, one or two. `own` is the brief's linkage, and
/// `text` its whole text as a tree. Empty where the text does not say.
std::vector<Limit> limits_of(const Demand& demand, const brief::Brief& own, const brief::Node& text);

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
