// A wish that is told by what another layout has: where its numbers come from.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace trammel::objectives {

/// What is wished is `times` · what the layout `of` has + `plus`, each a number (both ends the same) or a range. A
/// target with one of these has a `Wish` like any other; this only says how it came about.
struct Relative {
  std::string of;                         ///< the layout's file as the brief names it; empty = the layout as drawn
  std::pair<double, double> times{1, 1};  ///< lowest and highest
  std::pair<double, double> plus{0, 0};   ///< lowest and highest, in the unit of what is judged
  /// What that layout has: (fraction of its wheel travel, value) at the places of a stretch, or a single value, whose
  /// fraction means nothing. Empty until it has been looked up.
  std::vector<std::pair<double, double>> found;
  std::string in = {};  ///< the setting and size of that layout that was looked at, where it has several
};

}  // namespace trammel::objectives
