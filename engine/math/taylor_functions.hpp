// Functions of Taylor forms: roots, powers, angles, the greater of two, as series about the middle or along secants.
// The last part of taylor_form.hpp, which is what to include.
#pragma once

#include "math/taylor_form.hpp"

namespace trammel::math {

template <int N>
TaylorForm<N> TaylorForm<N>::root(const TaylorForm& a) {
  const Interval range = sqrt(a.range_);
  const double lo = a.range_.lo, hi = a.range_.hi;
  if (!a.range_.bounded() || !(hi > 1e-290) || a.constant()) return anything(range);
  if (lo > 0.2 * hi && a.mid_ > 0.0) {
    const Interval x(a.mid_), y = sqrt(x);
    const Interval fourth = Interval(0.0390625) / (sqrt(a.range_) * square(a.range_) * a.range_);
    return a.to_second_order(y, Interval(0.5) / y, Interval(-0.125) / (y * x), Interval(0.0625) / (y * square(x)),
                             fourth, range);
  }
  // √t − slope·t along the secant: least at the ends, greatest where its own slope is 0.
  const double slope = 1.0 / (std::sqrt(std::max(lo, 0.0)) + std::sqrt(hi));
  const auto off = [&](double t) { return std::sqrt(t) - slope * t; };
  return a.along(slope, std::min(off(std::max(lo, 0.0)), off(hi)), 0.25 / slope, std::sqrt(hi), range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::power_of(const TaylorForm& a, double power) {
  const Interval range = pow(a.range_, power);
  if (!(a.range_.lo > 0.0) || !(a.mid_ > 0.0) || !range.bounded()) return anything(range);
  const Interval x(a.mid_), p(power);
  const Interval second = Interval(0.5) * p * (p - Interval(1.0));
  const Interval third = second * (p - Interval(2.0)) / Interval(3.0);
  const Interval fourth = third * (p - Interval(3.0)) * Interval(0.25);
  return a.to_second_order(pow(x, power), p * pow(x, power) / x, second * pow(x, power) / square(x),
                           third * pow(x, power) / (square(x) * x), fourth * range / square(square(a.range_)), range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::logarithm(const TaylorForm& a) {
  const Interval range = log(a.range_);
  if (!(a.range_.lo > 0.0) || !(a.mid_ > 0.0) || !range.bounded()) return anything(range);
  const Interval x(a.mid_);
  return a.to_second_order(log(x), Interval(1.0) / x, Interval(-0.5) / square(x),
                           Interval(1.0) / (Interval(3.0) * square(x) * x), Interval(0.25) / square(square(a.range_)),
                           range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::angle(const TaylorForm& y, const TaylorForm& x) {
  const Interval range = atan2(y.range_, x.range_);
  const bool jumps = !(x.range_.lo > 0.0) && y.range_.lo <= 0.0 && y.range_.hi >= 0.0;
  if (jumps || !x.range_.bounded() || !y.range_.bounded()) return anything(range);
  // Turned back by the angle of the middle, the rest is an arctangent near 0.
  const TaylorForm along = x * TaylorForm(x.mid_) + y * TaylorForm(y.mid_);
  const TaylorForm across = y * TaylorForm(x.mid_) - x * TaylorForm(y.mid_);
  if (!(along.range_.lo > 0.0)) return anything(range);
  const Interval start = atan2(Interval(y.mid_), Interval(x.mid_));
  const TaylorForm turned = arctangent(across / along);
  return scaled(1.0, turned, start.middle(), 0.5 * start.width(), range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::greater(const TaylorForm& a, const TaylorForm& b) {
  const TaylorForm off = b - a;
  if (off.range_.hi <= 0.0) return a;
  if (off.range_.lo >= 0.0) return b;
  const Interval range = max(a.range_, b.range_);
  if (!off.range_.bounded()) return anything(range);
  // a + max(b − a, 0), the latter along its secant.
  const double slope = off.range_.hi / (off.range_.hi - off.range_.lo);
  const TaylorForm above = off.along(slope, 0.0, -slope * off.range_.lo, off.range_.hi, {0.0, off.range_.hi});
  return combined(1.0, a, 1.0, above, 0.0, 0.0, range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::either(const TaylorForm& a, const TaylorForm& b) {
  const Interval range = hull(a.range_, b.range_);
  const double apart = (b - a).range_.size();
  if (!(apart < 1e100)) return anything(range);
  return combined(0.5, a, 0.5, b, 0.0, rounding::up(0.5 * apart), range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::inverse(const TaylorForm& a) {
  const Interval range = Interval(1.0) / a.range_;
  if (a.range_.hi < 0.0) return -inverse(-a);
  const double lo = a.range_.lo, hi = a.range_.hi;
  if (lo > 0.2 * hi && a.mid_ > 0.0) {
    // 1/t = 1/m − d/m² + d²/m³ − d³/m⁴ + d⁴/(m⁴·t).
    const Interval y = Interval(1.0) / Interval(a.mid_), fourth = square(square(y));
    return a.to_second_order(y, -square(y), square(y) * y, -fourth, fourth * range, range);
  }
  const double slope = -(1.0 / lo) / hi;
  if (!(std::abs(slope) < 1e100)) return anything(range);
  // 1/t − slope·t: greatest at the ends.
  const auto off = [&](double t) { return 1.0 / t - slope * t; };
  return a.along(slope, 2.0 * std::sqrt(-slope), std::max(off(lo), off(hi)), 1.0 / lo + std::abs(slope) * hi, range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::arctangent(const TaylorForm& a) {
  const Interval range = atan2(a.range_, Interval(1.0));
  // f′ = 1/(1 + t²), f″/2 = −t·f′², f‴/6 = (t² − 1/3)·f′³, and f⁗/24 = t·(1 − t²)·f′⁴, at most 0.2.
  const Interval t(a.mid_), slope = Interval(1.0) / (Interval(1.0) + square(t));
  const Interval third = (square(t) - Interval(1.0) / Interval(3.0)) * square(slope) * slope;
  return a.to_second_order(atan2(t, Interval(1.0)), slope, -(t * square(slope)), third, {-0.2, 0.2}, range);
}

template <int N>
TaylorForm<N> TaylorForm<N>::wave(double phase) const {
  const Interval by{rounding::far_down(phase), rounding::far_up(phase)};
  const Interval quarter{rounding::far_down(0.5 * pi), rounding::far_up(0.5 * pi)};
  const Interval all = range_ + by, middle = Interval(mid_) + by;
  if (!all.bounded() || all.size() > 1e4) return anything({-1.0, 1.0});
  const Interval sine = waves(middle), cosine = waves(middle + quarter), sines = waves(all);
  return to_second_order(sine, cosine, Interval(-0.5) * sine, Interval(-1.0) / Interval(6.0) * cosine,
                         Interval(1.0) / Interval(24.0) * sines, sines);
}

template <int N>
Interval TaylorForm<N>::waves(const Interval& x) {
  constexpr double slack = 1e-11;  // more than |x| ≤ 2·10⁴ loses when multiples of π are counted
  const double a = std::sin(x.lo), b = std::sin(x.hi);
  Interval out{std::max(-1.0, std::min(a, b) - 1e-14), std::min(1.0, std::max(a, b) + 1e-14)};
  const auto passes = [&](double first) {  // first + 2πk for some k
    return std::floor((x.hi - first + slack) / (2.0 * pi)) > std::floor((x.lo - first - slack) / (2.0 * pi));
  };
  if (passes(0.5 * pi)) out.hi = 1.0;
  if (passes(-0.5 * pi)) out.lo = -1.0;
  return out;
}

// As the kernel names them.

template <int N>
TaylorForm<N> square(const TaylorForm<N>& x) {
  return TaylorForm<N>::squared(x);
}
template <int N>
TaylorForm<N> sqrt(const TaylorForm<N>& x) {
  return TaylorForm<N>::root(x);
}
template <int N>
TaylorForm<N> pow(const TaylorForm<N>& x, double power) {
  return TaylorForm<N>::power_of(x, power);
}
template <int N>
TaylorForm<N> log(const TaylorForm<N>& x) {
  return TaylorForm<N>::logarithm(x);
}
template <int N>
TaylorForm<N> atan2(const TaylorForm<N>& y, const TaylorForm<N>& x) {
  return TaylorForm<N>::angle(y, x);
}
template <int N>
TaylorForm<N> unit_angle(const TaylorForm<N>& sine, const TaylorForm<N>& cosine) {
  return TaylorForm<N>::angle(sine, cosine);
}
template <int N>
std::pair<TaylorForm<N>, TaylorForm<N>> cos_sin(const TaylorForm<N>& angle) {
  return TaylorForm<N>::cosine_and_sine(angle);
}
template <int N>
TaylorForm<N> max(const TaylorForm<N>& a, const TaylorForm<N>& b) {
  return TaylorForm<N>::greater(a, b);
}
template <int N>
TaylorForm<N> min(const TaylorForm<N>& a, const TaylorForm<N>& b) {
  return -TaylorForm<N>::greater(-a, -b);
}
template <int N>
TaylorForm<N> abs(const TaylorForm<N>& x) {
  return TaylorForm<N>::greater(x, -x);
}
template <int N>
TaylorForm<N> hull(const TaylorForm<N>& a, const TaylorForm<N>& b) {
  return TaylorForm<N>::either(a, b);
}
template <int N>
TaylorForm<N> select(const Known& condition, const TaylorForm<N>& yes, const TaylorForm<N>& no) {
  if (condition.holds()) return yes;
  return condition.fails() ? no : hull(yes, no);
}
template <int N>
Known truth_of(const TaylorForm<N>& number) {
  return truth_of(number.range());
}
template <int N>
TaylorForm<N> value(const TaylorForm<N>& x) {
  return x;
}

}  // namespace trammel::math
