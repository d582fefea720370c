// What the kernel asks of a number type.
//
// Linkage and curves are written once, templated on a number type T, and use only + − × ÷, the comparisons, and the
// functions that this file gives for a plain `double`. The other types are `Pack<W>` (pack.hpp: W numbers side by side,
// whose comparisons are masks) and `Dual<N, R>` (dual.hpp: a number with its derivatives). Nothing branches on a
// comparison: it goes through `select`.
//
// Sine, cosine and arctangent are in trigonometry.hpp, as formulas in + − × ÷ √ like all else, so that every type and
// every processor gives the same digits.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <type_traits>
#include <utility>

namespace trammel::math {

inline constexpr double pi = std::numbers::pi;

/// Degrees to radians.
constexpr double radians(double degrees) {
  return degrees * (pi / 180.0);
}
/// Radians to degrees.
constexpr double degrees(double radians) {
  return radians * (180.0 / pi);
}

/// The plain value that a number carries, its derivatives dropped.
inline double value(double x) {
  return x;
}
/// The type of that value: `double`, or a pack.
template <class T>
using Plain = std::decay_t<decltype(value(std::declval<T>()))>;
/// The type of a comparison: `bool`, or a mask.
template <class T>
using Truth = decltype(std::declval<T>() < std::declval<T>());

/// Square root; the argument must be ≥ 0 (callers clamp a radicand with `max` and report its margin).
inline double sqrt(double x) {
  return std::sqrt(x);
}
inline double abs(double x) {
  return x < 0.0 ? -x : x;
}
/// x to a constant power; x > 0.
inline double pow(double x, double power) {
  return std::pow(x, power);
}
/// Natural logarithm; x > 0.
inline double log(double x) {
  return std::log(x);
}

/// `yes` where the condition holds, else `no`. Both are evaluated.
inline double select(bool condition, double yes, double no) {
  return condition ? yes : no;
}
/// Whether a comparison holds in any lane, or in all.
inline bool any(bool condition) {
  return condition;
}
inline bool all(bool condition) {
  return condition;
}

/// How many numbers lie side by side in a T, and one of them by itself.
template <class T>
inline constexpr std::size_t lanes = 1;
inline double lane(double x, std::size_t) {
  return x;
}
inline bool lane(bool x, std::size_t) {
  return x;
}
inline void set_lane(double& x, std::size_t, double to) {
  x = to;
}

/// Element `index` (a whole number) of something: element(i) gives it.
template <class Element>
auto pick(double index, Element element) {
  return element(static_cast<std::size_t>(index));
}

/// The greater of two numbers; the first on a tie, so that a derivative never depends on rounding noise.
template <class T>
T max(const T& a, const T& b) {
  return select(a < b, b, a);
}
/// The lesser of two numbers; the first on a tie.
template <class T>
T min(const T& a, const T& b) {
  return select(b < a, b, a);
}
template <class T>
T square(const T& x) {
  return x * x;
}

}  // namespace trammel::math
