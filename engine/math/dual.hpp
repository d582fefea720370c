// A number that carries its partial derivatives: forward-mode automatic differentiation.
//
// Source of the rules: Griewank & Walther, Evaluating Derivatives, 2nd ed. (SIAM, 2008), ch. 3, table 3.3 (from
// memory).
#pragma once

#include "math/trigonometry.hpp"

namespace trammel::math {

/// N partial derivatives of a number of type R.
template <int N, class R>
struct Partials {
  R each[static_cast<std::size_t>(N)];

  Partials() {
    for (R& x : each) x = R(0.0);
  }
  const R& operator[](std::size_t i) const { return each[i]; }
  void set(std::size_t i, const R& x) { each[i] = x; }

  Partials operator-() const {
    return of([this](std::size_t i) { return -each[i]; });
  }
  friend Partials operator+(const Partials& a, const Partials& b) {
    return of([&](std::size_t i) { return a.each[i] + b.each[i]; });
  }
  friend Partials operator-(const Partials& a, const Partials& b) {
    return of([&](std::size_t i) { return a.each[i] - b.each[i]; });
  }
  friend Partials operator*(const Partials& a, const R& k) {
    return of([&](std::size_t i) { return a.each[i] * k; });
  }
  template <class M>
  friend Partials select(const M& condition, const Partials& yes, const Partials& no) {
    return of([&](std::size_t i) { return select(condition, yes.each[i], no.each[i]); });
  }

 private:
  struct Unset {};
  explicit Partials(Unset) {}
  template <class F>
  static Partials of(F f) {
    Partials out{Unset{}};
    for (std::size_t i = 0; i < static_cast<std::size_t>(N); ++i) out.each[i] = f(i);
    return out;
  }
};

/// Of a plain double they lie side by side themselves.
template <int N>
struct Partials<N, double> {
  Pack<N> pack{0.0};

  Partials() = default;
  explicit Partials(const Pack<N>& p) : pack(p) {}
  double operator[](std::size_t i) const { return pack[static_cast<int>(i)]; }
  void set(std::size_t i, double x) { pack.set(static_cast<int>(i), x); }
  /// All N to memory.
  void store(double* to) const { std::memcpy(to, &pack, sizeof pack); }

  Partials operator-() const { return Partials(-pack); }
  friend Partials operator+(const Partials& a, const Partials& b) { return Partials(a.pack + b.pack); }
  friend Partials operator-(const Partials& a, const Partials& b) { return Partials(a.pack - b.pack); }
  friend Partials operator*(const Partials& a, double k) { return Partials(a.pack * Pack<N>(k)); }
  friend Partials select(bool condition, const Partials& yes, const Partials& no) { return condition ? yes : no; }
};

/// A value and its partial derivatives with respect to N variables; the value a `double` or a pack.
template <int N, class R = double>
struct Dual {
  R v = R(0.0);
  Partials<N, R> d{};

  Dual() = default;
  Dual(double value) : v(value) {}  // NOLINT(google-explicit-constructor): a constant is a number like any other
  Dual(const R& value, const Partials<N, R>& partials) : v(value), d(partials) {}

  /// A value that no variable moves.
  static Dual constant(const R& value) {
    Dual x;
    x.v = value;
    return x;
  }
  /// The variable number `index` (0 … N−1) at `value`: its own partial is `slope`, the others are zero.
  static Dual variable(const R& value, int index, double slope = 1.0) {
    Dual x = constant(value);
    x.d.set(static_cast<std::size_t>(index), R(slope));
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
    const R inverse = R(1.0) / b.v;
    const R q = a.v / b.v;
    return {q, (a.d - b.d * q) * inverse};
  }
  friend Dual operator+(const Dual& a, double b) { return {a.v + R(b), a.d}; }
  friend Dual operator+(double a, const Dual& b) { return {R(a) + b.v, b.d}; }
  friend Dual operator-(const Dual& a, double b) { return {a.v - R(b), a.d}; }
  friend Dual operator-(double a, const Dual& b) { return {R(a) - b.v, -b.d}; }
  friend Dual operator*(const Dual& a, double b) { return {a.v * R(b), a.d * R(b)}; }
  friend Dual operator*(double a, const Dual& b) { return {R(a) * b.v, b.d * R(a)}; }
  friend Dual operator/(const Dual& a, double b) { return {a.v / R(b), a.d * R(1.0 / b)}; }

  friend auto operator<(const Dual& a, const Dual& b) { return a.v < b.v; }
  friend auto operator>(const Dual& a, const Dual& b) { return a.v > b.v; }
  friend auto operator<=(const Dual& a, const Dual& b) { return a.v <= b.v; }
  friend auto operator>=(const Dual& a, const Dual& b) { return a.v >= b.v; }
};

template <int N, class R>
const R& value(const Dual<N, R>& x) {
  return x.v;
}
/// A plain value as a number of type T that no variable moves.
template <class T>
T lift(const Plain<T>& x) {
  if constexpr (std::is_same_v<T, Plain<T>>)
    return x;
  else
    return T::constant(x);
}
template <class M, int N, class R>
Dual<N, R> select(const M& condition, const Dual<N, R>& yes, const Dual<N, R>& no) {
  return {select(condition, yes.v, no.v), select(condition, yes.d, no.d)};
}
/// At zero the slope is taken as zero: the callers clamp a negative radicand to zero, and past that point the root
/// does not move.
template <int N, class R>
Dual<N, R> sqrt(const Dual<N, R>& x) {
  const R root = sqrt(x.v);
  const auto rises = root > R(0.0);
  const R slope = select(rises, R(0.5) / select(rises, root, R(1.0)), R(0.0));
  return {root, x.d * slope};
}
template <int N, class R>
std::pair<Dual<N, R>, Dual<N, R>> cos_sin(const Dual<N, R>& x) {
  const auto [cosine, sine] = cos_sin(x.v);
  return {Dual<N, R>{cosine, x.d * -sine}, Dual<N, R>{sine, x.d * cosine}};
}
template <int N, class R>
Dual<N, R> sin(const Dual<N, R>& x) {
  return cos_sin(x).second;
}
template <int N, class R>
Dual<N, R> cos(const Dual<N, R>& x) {
  return cos_sin(x).first;
}
template <int N, class R>
Dual<N, R> atan2(const Dual<N, R>& y, const Dual<N, R>& x) {
  const R squared = x.v * x.v + y.v * y.v;
  const auto somewhere = squared > R(0.0);
  const R inverse = select(somewhere, R(1.0) / select(somewhere, squared, R(1.0)), R(0.0));
  return {atan2(y.v, x.v), (y.d * x.v - x.d * y.v) * inverse};
}
/// The angle of a unit vector; its derivative stands for vectors that stay of unit length.
template <int N, class R>
Dual<N, R> unit_angle(const Dual<N, R>& sine, const Dual<N, R>& cosine) {
  return {unit_angle(sine.v, cosine.v), sine.d * cosine.v - cosine.d * sine.v};
}
template <int N, class R>
Dual<N, R> pow(const Dual<N, R>& x, double power) {
  const R raised = pow(x.v, power);
  return {raised, x.d * (R(power) * raised / x.v)};
}
template <int N, class R>
Dual<N, R> log(const Dual<N, R>& x) {
  return {log(x.v), x.d * (R(1.0) / x.v)};
}
template <int N, class R>
Dual<N, R> abs(const Dual<N, R>& x) {
  return select(x.v < R(0.0), -x, x);
}

}  // namespace trammel::math
