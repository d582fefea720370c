// Why nothing meets every must: which demands conflict, and what giving way on each would buy.
//
// The demands of the conflict are found by deletion: each is dropped in turn, and stays dropped when the others still
// cannot be met together. What remains is a set from which nothing can be left out (Chinneck, Feasibility and
// Infeasibility in Optimization, Springer 2008, ch. 6, "deletion filter"). "Cannot be met" is the word of a short
// search, so the set is a finding and no proof; proofs are in search/preflight.hpp.
#pragma once

#include <atomic>
#include <optional>
#include <string>
#include <vector>

#include "objectives/verdict.hpp"
#include "search/setup.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// A must of the brief that could be dropped.
struct Demand {
  std::optional<std::size_t> rule;  ///< number of the packaging rule (objectives/rules/table.hpp); absent of a target
  std::size_t index = 0;            ///< the rule's item, or the target's number
  std::string name = {};            ///< the target's own, or e.g. "box of mount, x"
  std::string unit = {};
  double step = 1.0;        ///< a small amount of it: a target's tolerance, 1 mm, 1°
  double most = 0.0;        ///< of a rule the most that it could give
  std::string limits = {};  ///< of a rule, in words
  objectives::Origin origin = objectives::Origin::brief;

  bool operator==(const Demand& other) const { return rule == other.rule && index == other.index; }
};

/// All of them: packaging first, then targets in the brief's order.
std::vector<Demand> demands_of(const brief::Brief& brief);

/// The brief with only these demands and no other wish, its ranges and drawn layout as they are.
brief::Brief reduced(const brief::Brief& brief, const std::vector<Demand>& kept);

/// A layout that shows something, judged by the whole brief.
struct Witness {
  std::vector<double> design;  ///< in [0, 1]
  int choice = 0;
  bike::Layout layout;
  objectives::Assessment assessment;
};

/// What a demand of the conflict would have to give.
struct Concession {
  Demand demand;
  std::optional<Witness> dropped;  ///< meets the others of the conflict, this one dropped
  bool all_others = false;         ///< that layout meets all other demands of the brief too, and so does `relaxed`
  /// How far it must give way alone, in its unit; and the layout that shows it. Enough, by that layout; that less would
  /// not do is the search's word.
  std::optional<double> amount;
  std::optional<Witness> relaxed;
  /// One for each other demand of the conflict, in its order: how much less this one must give for each unit that the
  /// other one gives, found by searching again with the other one loosened by `step`. Empty for packaging.
  std::vector<double> rates;
};

struct Conflict {
  std::vector<std::string> proven;  ///< see `proven_conflicts`
  std::vector<Concession> demands;  ///< the smallest set found; empty when `found` is set or nothing moves at all
  std::optional<Witness> found;     ///< the closer look found a layout that meets every must
  int units = 0;                    ///< work units of each of the searches
  std::size_t linkage = 0;          ///< of several linkages the one that came nearest, which was searched
};

/// Looks for the conflict of a brief that a study found nothing for. `near` are the study's best layouts. Takes some
/// seconds; deterministic; throws Stopped when `stop` reads true.
Conflict find_conflict(const Setup& setup, const std::vector<store::LayoutRow>& near, const std::atomic<bool>* stop);

}  // namespace trammel::search
