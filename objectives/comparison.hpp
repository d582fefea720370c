// Differences between settings and sizes: what a target is about that compares cases instead of looking at each.
//
// Each case sees the target's curve or measure as a value that nothing is wished of; what is wished is judged of the
// values of several cases together. The derivative of a difference is the difference of the derivatives, so a search
// steers by it exactly.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "bike/cases.hpp"
#include "objectives/figure.hpp"

namespace trammel::objectives {

/// One difference that a target is about; a target on settings has one for each size, and the other way round.
struct Comparison {
  std::size_t target = 0;          ///< in the brief
  std::vector<std::size_t> cases;  ///< by number, at least two; of two that are named in the order second, first
  bool named = false;              ///< value of the first of `cases` − that of the second; else greatest − least
  std::string name;                ///< "high − low", "low to high, M"
  std::size_t of = 1;              ///< how many there are of the target
};

/// All that the targets of a layout with settings or sizes are about.
std::vector<Comparison> comparisons_of(const bike::Layout& layout, const std::vector<Target>& targets);

/// What a case sees of a target that compares: its value, which nothing fails.
Target watched(const Target& target);

/// A difference, and of which of the values compared.
struct Difference {
  double value = 0.0;
  std::size_t more = 0, less = 0;  ///< value = values[more] − values[less]
};
/// `values`: one for each of the comparison's cases.
Difference difference(const Comparison& comparison, std::span<const double> values);

/// What a difference adds to the figure, and the derivative of that with respect to the difference.
struct DifferenceShare {
  double share = 0.0, slope = 0.0;
};
DifferenceShare share_of(const Target& target, const Comparison& comparison, double value, const Emphasis& emphasis);

}  // namespace trammel::objectives
