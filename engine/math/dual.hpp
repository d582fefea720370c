// A number that carries its partial derivatives: forward-mode automatic differentiation.
//
// Source of the rules: Griewank & Walther, Evaluating Derivatives, 2nd ed. (SIAM, 2008), ch. 3, table 3.3 (from
// memory).
#pragma once

#include <cmath>
#include <cstddef>

#include "math/number.hpp"

namespace trammel::math {

/// N doubles, N even, in pairs that every x86-64 and ARMv8 processor handles in one register. Measured against one wide
/// vector type of N doubles, which GCC 12 lowers element by element where the processor has no register of that width.
template <int N>
struct Lanes {
  static_assert(N % 2 == 0);
  typedef double Pair __attribute__((vector_size(2 * sizeof(double))));
  Pair pairs[N / 2];

  double operator[](std::size_t i) const { return pairs[i / 2][i % 2]; }
  void set(std::size_t i, double x) { pairs[i / 2][i % 2] = x; }

  Lanes operator-() const {
    return each([this](int i) { return -pairs[i]; });
  }
  friend Lanes operator+(const Lanes& a, const Lanes& b) {
    return each([&](int i) { return a.pairs[i] + b.pairs[i]; });
  }
  friend Lanes operator-(const Lanes& a, const Lanes& b) {
    return each([&](int i) { return a.pairs[i] - b.pairs[i]; });
  }
  friend Lanes operator*(const Lanes& a, double k) {
    return each([&](int i) { return a.pairs[i] * k; });
  }

 private:
  template <class F>
  static Lanes each(F f) {
    Lanes out;
    for (int i = 0; i < N / 2; ++i) out.pairs[i] = f(i);
    return out;
  }
};

/// A value and its partial derivatives with respect to N variables.
template <int N>
struct Dual {
  using Partials = Lanes<N>;

  double v = 0.0;
  Partials d{};

  Dual() = default;
  Dual(double value) : v(value) {}  // NOLINT(google-explicit-constructor): a constant is a number like any other
  Dual(double value, const Partials& partials) : v(value), d(partials) {}

  /// The variable number `index` (0 … N−1) at `value`: its own partial is `slope`, the others are zero.
  static Dual variable(double value, int index, double slope = 1.0) {
    Dual x(value);
    x.d.set(static_cast<std::size_t>(index), slope);
    return x;
  }

  Dual operator-() const { return {-v, -d}; }
  Dual& operator+=(const Dual& o) { return *this = *this + o; }
  Dual& operator-=(const Dual& o) { return *this = *this - o; }
  Dual& operator*=(const Dual& o) { return *this = *this * o; }

  friend Dual operator+(const Dual& a, const Dual& b) { return {a.v + b.v, a.d + b.d}; }
  friend Dual operator-(const Dual& a, const Dual& b) { return {a.v - b.v, a.d - b.d}; }
  friend Dual operator*(const Dual& a, const Dual& b) { return {a.v * b.v, a.d * b.v + b.d * a.v}; }
  friend Dual operator/(const Dual& a, const Dual& b) {
    const double q = a.v / b.v;
    const double inverse = 1.0 / b.v;
    return {q, (a.d - b.d * q) * inverse};
  }
  friend Dual operator+(const Dual& a, double b) { return {a.v + b, a.d}; }
  friend Dual operator+(double a, const Dual& b) { return {a + b.v, b.d}; }
  friend Dual operator-(const Dual& a, double b) { return {a.v - b, a.d}; }
  friend Dual operator-(double a, const Dual& b) { return {a - b.v, -b.d}; }
  friend Dual operator*(const Dual& a, double b) { return {a.v * b, a.d * b}; }
  friend Dual operator*(double a, const Dual& b) { return {a * b.v, b.d * a}; }
  friend Dual operator/(const Dual& a, double b) { return {a.v / b, a.d * (1.0 / b)}; }

  friend bool operator<(const Dual& a, const Dual& b) { return a.v < b.v; }
  friend bool operator>(const Dual& a, const Dual& b) { return a.v > b.v; }
  friend bool operator<=(const Dual& a, const Dual& b) { return a.v <= b.v; }
  friend bool operator>=(const Dual& a, const Dual& b) { return a.v >= b.v; }
};

template <int N>
double value(const Dual<N>& x) {
  return x.v;
}
/// At zero the slope is taken as zero: the callers clamp a negative radicand to zero, and past that point the root
/// does not move.
template <int N>
Dual<N> sqrt(const Dual<N>& x) {
  const double root = std::sqrt(x.v);
  const double slope = root > 0.0 ? 0.5 / root : 0.0;
  return {root, x.d * slope};
}
template <int N>
Dual<N> sin(const Dual<N>& x) {
  return {std::sin(x.v), x.d * std::cos(x.v)};
}
template <int N>
Dual<N> cos(const Dual<N>& x) {
  return {std::cos(x.v), x.d * -std::sin(x.v)};
}
template <int N>
Dual<N> atan2(const Dual<N>& y, const Dual<N>& x) {
  const double squared = x.v * x.v + y.v * y.v;
  const double inverse = squared > 0.0 ? 1.0 / squared : 0.0;
  return {std::atan2(y.v, x.v), (y.d * x.v - x.d * y.v) * inverse};
}
template <int N>
Dual<N> pow(const Dual<N>& x, double power) {
  const double raised = std::pow(x.v, power);
  return {raised, x.d * (power * raised / x.v)};
}
template <int N>
Dual<N> log(const Dual<N>& x) {
  return {std::log(x.v), x.d * (1.0 / x.v)};
}
template <int N>
Dual<N> abs(const Dual<N>& x) {
  return x.v < 0.0 ? -x : x;
}
template <int N>
Dual<N> select(bool condition, const Dual<N>& yes, const Dual<N>& no) {
  return condition ? yes : no;
}

}  // namespace trammel::math
