// The figure to search by: how far a layout is from all that is asked of it, in one number.
#pragma once

#include "objectives/wish.hpp"

namespace trammel::objectives {

/// How the figure is put together.
struct Emphasis {
  double must = 20.0;  ///< weight of a must and of a rule, against 1 for a wish of weight 1
  double inset = 0.0;  ///< margin asked of every target

  double weight(const Target& target) const { return target.must ? must : target.weight; }
};

/// A residual grows no further than this: what fails badly anyway must not drown the rest.
inline constexpr double residual_limit = 40.0;

/// The square of a residual, ≥ 0, as it enters the figure: unchanged while small, never over the limit's.
template <class T>
T limited_square(const T& r) {
  // Most of what is asked holds: where it does in every lane, a division is spared.
  if (math::all(math::value(r) <= math::Plain<T>(0.0))) return T(0.0);
  const T square = math::square(math::min(r, T(1e100)));  // never infinite
  return square / (T(1.0) + square * T(1.0 / (residual_limit * residual_limit)));
}

/// What a value y at one of a target's `places` places adds to the figure.
template <class T>
T share_of(const Target& target, const Allowed& allowed, const T& y, std::size_t places, const Emphasis& emphasis) {
  return limited_square(residual(allowed, y, target.tolerance, emphasis.inset)) *
         T(emphasis.weight(target) / static_cast<double>(places));
}

/// What a rule that is missed by so much adds to the figure, not yet weighted.
template <class T>
T rule_share(const T& miss) {
  return limited_square(T(math::max(miss, T(0.0))));
}

}  // namespace trammel::objectives
