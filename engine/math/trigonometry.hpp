// Sine, cosine and arctangent in + − × ÷ √, the same digits in every number type and on every processor.
//
// A mathematical library's functions differ from one to the next in the last digit, and work on one number at a time.
// These are good to a few units of the last place; no curve needs more.
#pragma once

#include "math/pack.hpp"

namespace trammel::math {

namespace detail {

/// Σ cᵢ·uⁱ by Horner's rule.
template <class R, std::size_t N>
R polynomial(const double (&c)[N], const R& u) {
  R sum(c[N - 1]);
  for (std::size_t i = N - 1; i-- > 0;) sum = sum * u + R(c[i]);
  return sum;
}

/// The nearest whole number, |x| < 2⁵⁰: adding and taking away 1.5·2⁵² leaves no room for the rest.
template <class R>
R nearest(const R& x) {
  const R big(6755399441055744.0);
  return (x + big) - big;
}

/// Arctangent of t, |t| ≤ √2 − 1; beyond that only finite.
template <class R>
R short_arctangent(const R& t) {
  // atan(√u)/√u through its values at 11 Chebyshev points of 0 ≤ u ≤ (√2 − 1)², computed to 60 digits; the greatest
  // relative error of the rounded polynomial is 7e-17.
  constexpr double c[] = {1.0,
                          -0.33333333333328438572,
                          0.19999999998855110134,
                          -0.1428571418097646683,
                          0.1111110618045594522,
                          -0.090907730748084137897,
                          0.076899534963068577563,
                          -0.066402339304294085887,
                          0.056883492268090104794,
                          -0.043480522157164624777,
                          0.021135373157693245206};
  return t * polynomial(c, t * t);
}

}  // namespace detail

/// Cosine and sine of an angle in radians, |angle| < 10⁴.
template <class R>
std::pair<R, R> cos_sin(const R& angle) {
  // π/2 in three parts (Cody & Waite, Software Manual for the Elementary Functions, 1980; from memory): the first two
  // have few enough digits that their products with the quarter's number are exact.
  constexpr double part1 = 0x1.921fb544p0, part2 = 0x1.0b4611a6p-34, part3 = 0x1.3198a2e037073p-69;
  const R quarter = detail::nearest(angle * R(2.0 / pi));
  const R x = ((angle - quarter * R(part1)) - quarter * R(part2)) - quarter * R(part3);
  const R u = x * x;
  // Taylor's series; on |x| ≤ π/4 the first term left out is under 1e-18.
  constexpr double s[] = {1.0,
                          -1.0 / 6,
                          1.0 / 120,
                          -1.0 / 5040,
                          1.0 / 362880,
                          -1.0 / 39916800,
                          1.0 / 6227020800.0,
                          -1.0 / 1307674368000.0,
                          1.0 / 355687428096000.0};
  constexpr double c[] = {1.0,
                          -1.0 / 2,
                          1.0 / 24,
                          -1.0 / 720,
                          1.0 / 40320,
                          -1.0 / 3628800,
                          1.0 / 479001600.0,
                          -1.0 / 87178291200.0,
                          1.0 / 20922789888000.0,
                          -1.0 / 6402373705728000.0};
  const R sine = x * detail::polynomial(s, u), cosine = detail::polynomial(c, u);
  // Quarter turns: a half is −1, an odd one swaps the two. nearest(q/2 − ¼) = ⌊q/2⌋ for whole q.
  const R half = detail::nearest(quarter * R(0.5) - R(0.25));
  const R odd = quarter - half * R(2.0);
  const R sign = R(1.0) - (half - detail::nearest(half * R(0.5) - R(0.25)) * R(2.0)) * R(2.0);
  const auto swapped = odd > R(0.5);
  return {sign * select(swapped, -sine, cosine), sign * select(swapped, cosine, sine)};
}

/// Angle of (x, y) in radians, −π to π; (0, 0) gives 0.
template <class R>
R angle_of(const R& y, const R& x) {
  const R ax = abs(x), ay = abs(y);
  const auto steep = ax < ay;
  const R ratio = select(steep, ax, ay) / max(select(steep, ay, ax), R(1e-300));
  // tan(φ/2) from tan φ, so that the polynomial's range is |t| ≤ √2 − 1.
  const R t = ratio / (R(1.0) + sqrt(R(1.0) + ratio * ratio));
  const R half = detail::short_arctangent(t);
  const R acute = half + half;
  const R upright = select(steep, R(0.5 * pi) - acute, acute);
  const R up = select(x < R(0.0), R(pi) - upright, upright);
  return select(y < R(0.0), -up, up);
}

/// Angle of a unit vector (cosine, sine) in radians, −π to π: the same with one division and no root. Good to a few
/// units of the last place up to 2 rad; towards ±π digits go, as those of 1 + cosine do.
template <class R>
R angle_of_unit(const R& sine, const R& cosine) {
  // tan(φ/2) = sin φ/(1 + cos φ), then the arctangent of that or, where it is large, of what is left of 45° or 90°.
  const R size = abs(sine), rest = R(1.0) + cosine;
  const auto small = size < R(0.41421356237309503) * rest, middling = size < R(2.414213562373095) * rest;
  const R above = select(small, size, select(middling, size - rest, -rest));
  const R below = select(small, rest, select(middling, size + rest, size));
  const R half = detail::short_arctangent(R(above / max(below, R(1e-300)))) +
                 select(small, R(0.0), select(middling, R(0.25 * pi), R(0.5 * pi)));
  const R up = half + half;
  return select(sine < R(0.0), -up, up);
}

/// The same, in the same digits, where the cosine is no less than `quick_cosine`.
template <class R>
R quick_angle_of_unit(const R& sine, const R& cosine) {
  const R half = detail::short_arctangent(R(sine / (R(1.0) + cosine)));
  return half + half;
}
inline constexpr double quick_cosine = 0.72;

inline double sin(double x) {
  return cos_sin(x).second;
}
inline double cos(double x) {
  return cos_sin(x).first;
}
inline double atan2(double y, double x) {
  return angle_of(y, x);
}
inline double unit_angle(double sine, double cosine) {
  return angle_of_unit(sine, cosine);
}
template <int W>
Pack<W> unit_angle(const Pack<W>& sine, const Pack<W>& cosine) {
  return angle_of_unit(sine, cosine);
}
template <int W>
Pack<W> sin(const Pack<W>& x) {
  return cos_sin(x).second;
}
template <int W>
Pack<W> cos(const Pack<W>& x) {
  return cos_sin(x).first;
}
template <int W>
Pack<W> atan2(const Pack<W>& y, const Pack<W>& x) {
  return angle_of(y, x);
}

}  // namespace trammel::math
