// Wishes as bands: what is allowed at one place, and how far a value is outside or inside.
#pragma once

#include <limits>

#include "math/number_types.hpp"
#include "objectives/target.hpp"

namespace trammel::objectives {

/// The values that a wish allows at one place: lo ≤ y ≤ hi, either end absent as ±infinity. `depth` is the distance
/// inside at which the margin reaches 1: half the width of a band, or the tolerance; of a demand that holds by default
/// always the tolerance, since the middle of what is sound is no better than the rest of it.
struct Allowed {
  double lo = -std::numeric_limits<double>::infinity();
  double hi = std::numeric_limits<double>::infinity();
  double depth = 1.0;
};

/// The path of a wish along one at a fraction of travel, straight between its points and level outside them.
double path_value(const Wish& wish, double fraction);

/// What a target allows at a fraction of travel (which only wishes along a path look at).
Allowed allowed_at(const Target& target, double fraction);

/// Distance outside the allowed values as a multiple of the tolerance; 0 inside. `inset` (0 … 1) asks for that much
/// margin as well. Its square is once continuously differentiable.
template <class T>
T residual(const Allowed& allowed, const T& y, double tolerance, double inset) {
  const double narrower = inset * allowed.depth;
  const T below = T(allowed.lo + narrower) - y, above = y - T(allowed.hi - narrower);
  return math::max(math::max(below, above), T(0.0)) * T(1.0 / tolerance);
}

/// Distance inside as a share of the depth: at most 1, 0 on the edge, negative outside.
double margin(const Allowed& allowed, double y);

}  // namespace trammel::objectives
