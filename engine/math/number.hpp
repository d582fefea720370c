// What the kernel asks of a number type.
//
// Linkage and curves are written once, templated on a number type T, and use only + − × ÷, the comparisons, and the
// functions of this file. T is `double` here and `Dual<N>` in dual.hpp. Nothing branches on a comparison: it goes
// through `select`, so that a type whose comparisons are lane masks fits as well.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

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

/// Square root; the argument must be ≥ 0 (callers clamp a radicand with `max` and report its margin).
inline double sqrt(double x) {
  return std::sqrt(x);
}
inline double sin(double x) {
  return std::sin(x);
}
inline double cos(double x) {
  return std::cos(x);
}
/// Angle of (x, y) in radians, −π to π; (0, 0) gives 0.
inline double atan2(double y, double x) {
  return std::atan2(y, x);
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
