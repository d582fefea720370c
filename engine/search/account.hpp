// What sets a layout apart from the others on its shortlist: what it is best at, and what that costs.
#pragma once

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "objectives/target.hpp"
#include "objectives/verdict.hpp"

namespace trammel::search {

/// A lead that a rider could not tell, in tolerances, is none.
inline constexpr double least_lead = 0.1;
/// Most targets that an account names as its best, and as its worst.
inline constexpr std::size_t most_best = 2, most_worst = 1;

/// Of a ceiling or floor the better value is the one further from the limit; of all other wishes the one with more
/// margin. Targets are given by number.
struct Account {
  std::vector<std::size_t> best;    ///< in which it outdoes every other layout, the greatest lead first
  std::vector<std::size_t> missed;  ///< that it does not meet, in the brief's order
  std::vector<std::size_t> worst;   ///< that it meets, and in which every other layout outdoes it
  /// Where it is best in none: the target that it meets in which the fewest outdo it, fewer than half of the others,
  /// and how many do.
  std::optional<std::pair<std::size_t, std::size_t>> near_best;
  std::optional<std::size_t> narrowest;  ///< the target with its least margin; absent where the brief has none
  bool widest_margin = false;            ///< of all on the shortlist, and there are others
  bool narrowest_margin = false;
  bool highest_yield = false;  ///< likewise, where tolerances are given
  bool lowest_yield = false;
  bool alone = false;             ///< nothing to compare with
  bool first_of_linkage = false;  ///< where the brief names several linkages
};

/// The account of layout number `which`; `all` are the assessments of the shortlist, which have the brief's `targets`.
Account account_of(const std::vector<objectives::Target>& targets,
                   const std::vector<const objectives::Assessment*>& all, std::size_t which);

}  // namespace trammel::search
