// Intervals: all values that a number may have, as two ends that are never too narrow.
//
// Every operation's exact result, for all values of its operands, lies within the interval that it gives. The ends are
// computed as the processor rounds, to nearest, and then moved outward by at least one unit of the last place:
// x ± (φ|x| + η) with φ = u(1 + 2u), u = 2⁻⁵³ and η = 2⁻¹⁰⁷⁴ (Rump, Zimmermann, Boldo & Melquiond, Computing
// predecessor and successor in rounding to nearest, BIT 49 (2009) 419–431; from memory). No rounding mode is touched,
// so it holds on every processor that rounds as IEEE 754 says, with -ffp-contract=off.
//
// Division by an interval that holds 0 gives all numbers. So does whatever would be no number. A comparison may hold,
// may not, or either. Source: Moore, Kearfott & Cloud, Introduction to Interval Analysis (SIAM, 2009); from memory.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "math/number.hpp"

namespace trammel::math {

namespace rounding {

inline constexpr double unit = 0x1p-53;

/// No more than the exact result that was rounded to x.
inline double down(double x) {
  return x - (std::abs(x) * (unit * (1.0 + 2.0 * unit)) + std::numeric_limits<double>::denorm_min());
}
/// No less than it.
inline double up(double x) {
  return x + (std::abs(x) * (unit * (1.0 + 2.0 * unit)) + std::numeric_limits<double>::denorm_min());
}
/// The same of a function that may be off by a few units of the last place.
inline double far_down(double x) {
  return x - (std::abs(x) * (8.0 * unit) + 1e-300);
}
inline double far_up(double x) {
  return x + (std::abs(x) * (8.0 * unit) + 1e-300);
}

}  // namespace rounding

/// What is known of a comparison.
struct Known {
  bool may_hold = true, may_fail = true;

  bool holds() const { return !may_fail; }
  bool fails() const { return !may_hold; }
};

/// Whether a comparison holds for sure; whether it may.
inline bool all(const Known& comparison) {
  return comparison.holds();
}
inline bool any(const Known& comparison) {
  return comparison.may_hold;
}

struct Interval {
  double lo = 0.0, hi = 0.0;

  constexpr Interval() = default;
  constexpr Interval(double x)
      : lo(x), hi(x) {}  // NOLINT(google-explicit-constructor): a number is an interval like any other
  constexpr Interval(double from, double to) : lo(from), hi(to) {}

  static Interval all() { return {-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()}; }
  /// The ends, or all numbers where one of them is none.
  static Interval checked(double from, double to) { return from <= to ? Interval(from, to) : all(); }

  double middle() const { return 0.5 * lo + 0.5 * hi; }
  double width() const { return rounding::up(hi - lo); }
  bool holds(double x) const { return lo <= x && x <= hi; }
  bool bounded() const { return hi - lo < std::numeric_limits<double>::infinity(); }
  /// Greatest absolute value.
  double size() const { return std::max(std::abs(lo), std::abs(hi)); }

  Interval operator-() const { return {-hi, -lo}; }
  friend Interval operator+(const Interval& a, const Interval& b) {
    return checked(rounding::down(a.lo + b.lo), rounding::up(a.hi + b.hi));
  }
  friend Interval operator-(const Interval& a, const Interval& b) { return a + -b; }
  friend Interval operator*(const Interval& a, const Interval& b) {
    const double p = a.lo * b.lo, q = a.lo * b.hi, r = a.hi * b.lo, s = a.hi * b.hi;
    if (!(std::abs(p) + std::abs(q) + std::abs(r) + std::abs(s) < std::numeric_limits<double>::infinity()))
      return all();
    return {rounding::down(std::min(std::min(p, q), std::min(r, s))),
            rounding::up(std::max(std::max(p, q), std::max(r, s)))};
  }
  friend Interval operator/(const Interval& a, const Interval& b) {
    if (!(b.lo > 0.0) && !(b.hi < 0.0)) return all();
    const double p = a.lo / b.lo, q = a.lo / b.hi, r = a.hi / b.lo, s = a.hi / b.hi;
    if (!(std::abs(p) + std::abs(q) + std::abs(r) + std::abs(s) < std::numeric_limits<double>::infinity()))
      return all();
    return {rounding::down(std::min(std::min(p, q), std::min(r, s))),
            rounding::up(std::max(std::max(p, q), std::max(r, s)))};
  }
  friend Known operator<(const Interval& a, const Interval& b) { return {a.lo < b.hi, !(a.hi < b.lo)}; }
};

/// All that lies in either, and what lies between.
inline Interval hull(const Interval& a, const Interval& b) {
  return {std::min(a.lo, b.lo), std::max(a.hi, b.hi)};
}
/// What lies in both; `a` where rounding, or a number that is none, leaves nothing.
inline Interval meet(const Interval& a, const Interval& b) {
  const double lo = std::max(a.lo, b.lo), hi = std::min(a.hi, b.hi);
  return lo <= hi ? Interval(lo, hi) : a;
}
inline Interval max(const Interval& a, const Interval& b) {
  return {std::max(a.lo, b.lo), std::max(a.hi, b.hi)};
}
inline Interval min(const Interval& a, const Interval& b) {
  return {std::min(a.lo, b.lo), std::min(a.hi, b.hi)};
}
inline Interval square(const Interval& a) {
  const double p = a.lo * a.lo, q = a.hi * a.hi;
  if (!(p + q < std::numeric_limits<double>::infinity())) return {0.0, std::numeric_limits<double>::infinity()};
  const bool over = a.lo <= 0.0 && a.hi >= 0.0;
  return {over ? 0.0 : std::max(0.0, rounding::down(std::min(p, q))), rounding::up(std::max(p, q))};
}
/// Of what of it is ≥ 0: roots are taken of nothing else.
inline Interval sqrt(const Interval& a) {
  if (!(a.hi >= 0.0)) return Interval::all();
  return {a.lo > 0.0 ? std::max(0.0, rounding::down(std::sqrt(a.lo))) : 0.0, rounding::up(std::sqrt(a.hi))};
}
/// To a constant power, of what of it is > 0.
inline Interval pow(const Interval& a, double power) {
  if (!(a.lo > 0.0) || !a.bounded()) return {0.0, std::numeric_limits<double>::infinity()};
  const double p = std::pow(a.lo, power), q = std::pow(a.hi, power);
  return Interval::checked(std::max(0.0, rounding::far_down(std::min(p, q))), rounding::far_up(std::max(p, q)));
}
/// Natural logarithm, of what of it is > 0.
inline Interval log(const Interval& a) {
  if (!(a.lo > 0.0) || !a.bounded()) return Interval::all();
  return {rounding::far_down(std::log(a.lo)), rounding::far_up(std::log(a.hi))};
}
/// Angle of (x, y) in radians. From −π to π where the box reaches the half line at which angles jump, or the origin.
inline Interval atan2(const Interval& y, const Interval& x) {
  const double most = rounding::far_up(pi);
  if (!y.bounded() || !x.bounded() || (!(x.lo > 0.0) && y.lo <= 0.0 && y.hi >= 0.0)) return {-most, most};
  const double corners[] = {std::atan2(y.lo, x.lo), std::atan2(y.lo, x.hi), std::atan2(y.hi, x.lo),
                            std::atan2(y.hi, x.hi)};
  return {rounding::far_down(*std::min_element(corners, corners + 4)),
          rounding::far_up(*std::max_element(corners, corners + 4))};
}
inline Interval unit_angle(const Interval& sine, const Interval& cosine) {
  return atan2(sine, cosine);
}
inline Interval select(const Known& condition, const Interval& yes, const Interval& no) {
  if (condition.holds()) return yes;
  return condition.fails() ? no : hull(yes, no);
}
/// A comparison as a tape has it: 1 where it holds, 0 where it does not.
template <class T>
T as_number(const Known& condition) {
  return select(condition, T(1.0), T(0.0));
}
inline Known truth_of(const Interval& number) {
  return {number.hi > 0.5, !(number.lo > 0.5)};
}
inline Interval value(const Interval& x) {
  return x;
}

}  // namespace trammel::math
