// Why nothing meets every must: which demands conflict, and what giving way would be enough.
//
// The demands of a conflict are found by deletion: each is dropped in turn, and stays dropped when the others still
// cannot be met together. What remains is a set from which nothing can be left out (Chinneck, Feasibility and
// Infeasibility in Optimization, Springer 2008, ch. 6, "deletion filter"). "Cannot be met" is the word of a short
// search, so the set is a finding and no proof; proofs are in search/preflight.hpp.
//
// That giving way is enough is more than that: it is said only of a brief that was searched, the whole of it, with the
// numbers that are said changed in its text, and that search found a layout that meets every must. A study of that
// brief runs the same work units and finds the same layout.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "search/demand.hpp"
#include "search/way_out.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

struct Setup;
struct Effort;

/// A demand of the conflict, and what its giving way does.
struct Concession {
  Demand demand;
  std::optional<std::size_t> way = {};  ///< number of the way out that begins with it; absent when none was found
  bool alone = false;                   ///< nothing else gives in it
  /// Unless it is enough alone: the demands that conflict even when it is dropped. Empty when that was not found out.
  std::vector<Demand> then = {};
  /// Without a way, where dropping it would be enough: how near the nearest layout comes.
  std::optional<Miss> least = {};
};

struct Conflict {
  std::vector<std::string> proven;  ///< see `proven_conflicts`
  std::vector<Concession> demands;  ///< the smallest set found; empty when something was found or nothing moves
  std::vector<WayOut> ways;         ///< those of the demands, then one in which all of them give, if that is another
  std::vector<store::LayoutRow> found;  ///< layouts that meet every must all the same, best first
  int units = 0;                        ///< work units of each of the searches
  std::size_t linkage = 0;              ///< of several linkages the one that came nearest, which was searched
};

/// Looks for the conflict of a brief that a study found nothing for, in the linkage numbered so. `near` are the study's
/// best layouts of that linkage. Takes some seconds, on all threads of `effort`; deterministic; throws Stopped.
Conflict find_conflict(const Setup& setup, std::int64_t linkage, const std::vector<store::LayoutRow>& near,
                       const Effort& effort);

}  // namespace trammel::search
