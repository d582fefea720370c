// Taylor forms of second order: numbers that know how they hang together with the variables of a box.
//
// x = mid + Σ cᵢ·εᵢ + Σ qᵢⱼ·εᵢ·εⱼ ± err with the same εᵢ ∈ [−1, 1] in all numbers of a computation, one for each
// variable of the box, and one that a computation may use for itself. What is linear or quadratic in the variables is
// carried exactly, up to rounding, which goes into `err` with all that is of higher order; so a form is as wide as it
// must be up to the third power of the box's width, where an interval errs by the width itself. An interval is carried
// beside it, and the narrower of the two holds.
//
// Sources (from memory): Makino & Berz, Taylor models and other validated functional inclusion methods, Int. J. Pure
// Appl. Math. 4 (2003) 379–456; Messine, Extensions of affine arithmetic, J. Universal Comput. Sci. 8 (2002) 992–1015,
// whose quadratic forms these are but for one term for all errors. A function of one number is taken to second order
// about its middle, what is cubic beyond along its Chebyshev line, and the remainder is Lagrange's.
//
// Rounding: sums and products are rounded to nearest, and `err` grows by a few units of the last place times the sum of
// the absolute values of all terms that went into one operation, which is more than the roundings that each has seen.
#pragma once

#include <array>

#include "math/interval.hpp"
#include "math/trigonometry.hpp"

namespace trammel::math {

template <int N>
class TaylorForm {
 public:
  TaylorForm() : TaylorForm(0.0) {}
  TaylorForm(double x) : range_(x), mid_(x) {}  // NOLINT(google-explicit-constructor): a number is a form, too

  /// Variable number i over an interval.
  static TaylorForm variable(const Interval& over, int i) {
    TaylorForm out;
    out.range_ = over;
    out.mid_ = over.middle();
    out.c_[at(i)] = rounding::up(std::max(rounding::up(over.hi - out.mid_), rounding::up(out.mid_ - over.lo)));
    out.settle();
    return out;
  }
  /// Anything in an interval, whatever the variables are.
  static TaylorForm anything(const Interval& in) {
    TaylorForm out;
    out.range_ = in;
    out.forget();
    return out;
  }

  const Interval& range() const { return range_; }
  double mid() const { return mid_; }
  double err() const { return err_; }
  /// Of variable i.
  double slope(int i) const { return c_[at(i)]; }
  /// What the form is at least and at most beyond mid + Σ cᵢ·εᵢ.
  Interval beyond_linear() const {
    double own = 0.0, lo = err_, hi = err_;
    for (std::size_t i = 0; i < N; ++i) {
      const double q = q_[i * N + i];
      own += std::abs(q);
      lo += std::max(0.0, -q);
      hi += std::max(0.0, q);
    }
    const double others = std::max(0.0, bent_ - own * (1.0 - summing));
    lo += others;
    hi += others;
    return {-lo * (1.0 + summing), hi * (1.0 + summing)};
  }

  /// The same, off by at most `by` ≥ 0.
  TaylorForm widened(double by) const {
    TaylorForm out = *this;
    out.err_ = rounding::up(err_ + by);
    out.range_ = range_ + Interval(-by, by);
    out.settle();
    return out;
  }
  /// The same, known to lie in an interval.
  TaylorForm within(const Interval& in) const {
    TaylorForm out = *this;
    out.range_ = meet(range_, in);
    return out;
  }
  /// The same with variable i counted as an error.
  TaylorForm without(int variable) const {
    TaylorForm out = *this;
    double moved = std::abs(out.c_[at(variable)]);
    out.c_[at(variable)] = 0.0;
    for (std::size_t i = 0; i < N; ++i)
      for (std::size_t j = 0; j < N; ++j)
        if (i == at(variable) || j == at(variable)) {
          moved += std::abs(out.q_[i * N + j]);
          out.q_[i * N + j] = 0.0;
        }
    out.err_ = (err_ + moved) * (1.0 + summing);
    out.settle();
    return out;
  }
  /// The same with variable i, which it does not have, standing for its error.
  TaylorForm error_as(int variable) const {
    TaylorForm out = *this;
    out.c_[at(variable)] = err_;
    out.err_ = 0.0;
    out.settle();
    return out;
  }

  TaylorForm operator-() const {
    TaylorForm out = *this;
    out.range_ = -range_;
    out.mid_ = -mid_;
    for (double& x : out.c_) x = -x;
    for (double& x : out.q_) x = -x;
    return out;
  }
  friend TaylorForm operator+(const TaylorForm& a, const TaylorForm& b) {
    return combined(1.0, a, 1.0, b, 0.0, 0.0, a.range_ + b.range_);
  }
  friend TaylorForm operator-(const TaylorForm& a, const TaylorForm& b) {
    return combined(1.0, a, -1.0, b, 0.0, 0.0, a.range_ - b.range_);
  }
  friend TaylorForm operator*(const TaylorForm& a, const TaylorForm& b) {
    if (a.constant()) return scaled(a.mid_, b, 0.0, 0.0, a.range_ * b.range_);
    if (b.constant()) return scaled(b.mid_, a, 0.0, 0.0, a.range_ * b.range_);
    return product(a, b, a.range_ * b.range_);
  }
  friend TaylorForm operator/(const TaylorForm& a, const TaylorForm& b) {
    const Interval range = a.range_ / b.range_;
    if (b.constant()) {
      if (b.mid_ == 0.0) return anything(range);
      const Interval inverse = Interval(1.0) / Interval(b.mid_);
      return scaled(inverse.middle(), a, 0.0, a.range_.size() * (0.5 * inverse.width()), range);
    }
    if (!(b.range_.lo > 0.0) && !(b.range_.hi < 0.0)) return anything(range);
    // a/b = q + (a − q·b)/b, whose numerator is small where both go together.
    const double q = a.mid_ / b.mid_;
    if (!(std::abs(q) < 1e100)) return anything(range);
    const TaylorForm rest = combined(1.0, a, -q, b, 0.0, 0.0, a.range_ - Interval(q) * b.range_);
    const TaylorForm off = product(rest, inverse(b), rest.range_ / b.range_);
    return scaled(1.0, off, q, 0.0, range);
  }
  TaylorForm& operator+=(const TaylorForm& o) { return *this = *this + o; }
  TaylorForm& operator-=(const TaylorForm& o) { return *this = *this - o; }
  TaylorForm& operator*=(const TaylorForm& o) { return *this = *this * o; }

  friend Known operator<(const TaylorForm& a, const TaylorForm& b) {
    const Interval off = (a - b).range_;
    return {off.lo < 0.0, !(off.hi < 0.0)};
  }
  friend Known operator>(const TaylorForm& a, const TaylorForm& b) { return b < a; }
  friend Known operator<=(const TaylorForm& a, const TaylorForm& b) {
    const Interval off = (a - b).range_;
    return {off.lo <= 0.0, !(off.hi <= 0.0)};
  }
  friend Known operator>=(const TaylorForm& a, const TaylorForm& b) { return b <= a; }

  // What the functions below this class call.

  static TaylorForm squared(const TaylorForm& a) { return product(a, a, square(a.range_)); }
  static TaylorForm root(const TaylorForm& a);
  static TaylorForm power_of(const TaylorForm& a, double power);
  static TaylorForm logarithm(const TaylorForm& a);
  static TaylorForm angle(const TaylorForm& y, const TaylorForm& x);
  static std::pair<TaylorForm, TaylorForm> cosine_and_sine(const TaylorForm& angle) {
    return {angle.wave(0.5 * pi), angle.wave(0.0)};
  }
  static TaylorForm greater(const TaylorForm& a, const TaylorForm& b);
  static TaylorForm either(const TaylorForm& a, const TaylorForm& b);

 private:
  /// The quadratic coefficients as a whole square, each of two unlike variables in halves on both sides of the
  /// diagonal: rows of one length, which processors like.
  static constexpr std::size_t quadratic = N * N;
  /// What rounding may add to a sum over all coefficients, and to all of them in one operation, as a share of the
  /// terms.
  static constexpr double summing = (2.0 * N + 16.0) * rounding::unit;
  static constexpr double operating = (N + 24.0) * rounding::unit;

  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  bool constant() const { return rad_ == 0.0; }

  /// α·a + β·b + γ ± δ, known to lie in `range`.
  static TaylorForm combined(double alpha, const TaylorForm& a, double beta, const TaylorForm& b, double gamma,
                             double delta, const Interval& range) {
    TaylorForm out;
    const double p = std::abs(alpha), q = std::abs(beta);
    out.mid_ = alpha * a.mid_ + beta * b.mid_ + gamma;
    for (std::size_t i = 0; i < N; ++i) out.c_[i] = alpha * a.c_[i] + beta * b.c_[i];
    for (std::size_t i = 0; i < quadratic; ++i) out.q_[i] = alpha * a.q_[i] + beta * b.q_[i];
    const double terms = p * (std::abs(a.mid_) + a.rad_) + q * (std::abs(b.mid_) + b.rad_) + std::abs(gamma);
    out.err_ = (p * a.err_ + q * b.err_ + delta + terms * operating) * (1.0 + 16.0 * rounding::unit) + 1e-300;
    out.range_ = range;
    out.settle();
    return out;
  }
  static TaylorForm scaled(double alpha, const TaylorForm& a, double gamma, double delta, const Interval& range) {
    TaylorForm out;
    const double p = std::abs(alpha);
    out.mid_ = alpha * a.mid_ + gamma;
    for (std::size_t i = 0; i < N; ++i) out.c_[i] = alpha * a.c_[i];
    for (std::size_t i = 0; i < quadratic; ++i) out.q_[i] = alpha * a.q_[i];
    const double terms = p * (std::abs(a.mid_) + a.rad_) + std::abs(gamma);
    out.err_ = (p * a.err_ + delta + terms * operating) * (1.0 + 16.0 * rounding::unit) + 1e-300;
    out.range_ = range;
    out.settle();
    return out;
  }
  /// λ·(mid of each · the other) + the product of the linear parts, and what is beyond.
  static TaylorForm product(const TaylorForm& a, const TaylorForm& b, const Interval& range) {
    TaylorForm out;
    out.mid_ = a.mid_ * b.mid_;
    for (std::size_t i = 0; i < N; ++i) out.c_[i] = a.mid_ * b.c_[i] + b.mid_ * a.c_[i];
    for (std::size_t i = 0; i < N; ++i) {
      const double ai = 0.5 * a.c_[i], bi = 0.5 * b.c_[i];
      for (std::size_t j = 0; j < N; ++j)
        out.q_[i * N + j] = (a.mid_ * b.q_[i * N + j] + b.mid_ * a.q_[i * N + j]) + (ai * b.c_[j] + bi * a.c_[j]);
    }
    const double p = std::abs(a.mid_), q = std::abs(b.mid_);
    const double higher = a.linear_ * b.bent_ + a.bent_ * b.linear_ + a.bent_ * b.bent_;
    const double errors = (p + a.linear_ + a.bent_) * b.err_ + (q + b.linear_ + b.bent_) * a.err_ + a.err_ * b.err_;
    const double terms = (p + a.rad_) * (q + b.rad_);
    out.err_ = (higher + errors + terms * operating) * (1.0 + 16.0 * rounding::unit) + 1e-300;
    out.range_ = range;
    out.settle();
    return out;
  }
  static TaylorForm inverse(const TaylorForm& a);
  static TaylorForm arctangent(const TaylorForm& a);
  /// sin(x + phase).
  TaylorForm wave(double phase) const;
  /// Sine over an interval: at its ends, and ±1 where an odd multiple of π/2 lies between.
  static Interval waves(const Interval& x);

  /// slope·x + something from `least` to `greatest`, computed from terms of at most `size` with a few roundings.
  TaylorForm along(double slope, double least, double greatest, double size, const Interval& range) const {
    const double terms = std::abs(slope) * range_.size() + std::abs(size) + std::abs(least) + std::abs(greatest);
    return scaled(slope, *this, 0.5 * (least + greatest),
                  0.5 * std::max(0.0, greatest - least) + terms * (8.0 * rounding::unit), range);
  }
  /// f0 + f1·d + f2·d² + f3·d³ + f4·d⁴ with d = x − mid; `f4` holds f⁗/24 over the range. Of |d| ≤ r, d³ is ¾·r²·d give
  /// or take r³/4 (Chebyshev).
  TaylorForm to_second_order(const Interval& f0, const Interval& f1, const Interval& f2, const Interval& f3,
                             const Interval& f4, const Interval& range) const {
    const double far = std::max(range_.hi - mid_, mid_ - range_.lo) * (1.0 + 4.0 * rounding::unit);
    const double cube = far * far * far;
    const double rest = f3.size() * 0.25 * cube + f4.size() * far * cube;
    if (!(rest < 1e100) || !f0.bounded() || !f1.bounded() || !f2.bounded()) return anything(range);
    TaylorForm out;
    const double y = f0.middle(), slope = f1.middle() + f3.middle() * (0.75 * far * far), bend = f2.middle();
    out.mid_ = y;
    for (std::size_t i = 0; i < N; ++i) out.c_[i] = slope * c_[i];
    for (std::size_t i = 0; i < N; ++i) {
      const double ci = bend * c_[i];
      for (std::size_t j = 0; j < N; ++j) out.q_[i * N + j] = slope * q_[i * N + j] + ci * c_[j];
    }
    const double p = std::abs(slope), q = std::abs(bend);
    const double square_of = q * (bent_ * (2.0 * linear_ + bent_) + err_ * (2.0 * (linear_ + bent_) + err_));
    const double terms =
        std::abs(y) + p * rad_ + q * rad_ * rad_ + (std::abs(f1.middle()) + f3.size() * far * far) * rad_;
    const double given = f0.width() + f1.width() * rad_ + f2.width() * rad_ * rad_ + f3.width() * cube;
    out.err_ = (p * err_ + square_of + rest + given + terms * operating) * (1.0 + 32.0 * rounding::unit) + 1e-300;
    out.range_ = range;
    out.settle();
    return out;
  }

  /// Sizes and range, once all else is known. Where correlations tell nothing they are dropped.
  void settle() {
    linear_ = bent_ = 0.0;
    double lo = 0.0, hi = 0.0, own = 0.0;
    for (std::size_t i = 0; i < N; ++i) {
      // c·ε + q·ε² over −1 … 1: at its ends, or at its vertex.
      const double c = std::abs(c_[i]), q = q_[i * N + i];
      linear_ += c;
      own += std::abs(q);
      lo += q > 0.0 && c < 2.0 * q ? -(c * c) / (4.0 * q) : q - c;
      hi += q < 0.0 && c < -2.0 * q ? -(c * c) / (4.0 * q) : q + c;
    }
    std::array<double, N> sums{};
    for (std::size_t i = 0; i < N; ++i)
      for (std::size_t j = 0; j < N; ++j) sums[j] += std::abs(q_[i * N + j]);
    for (const double sum : sums) bent_ += sum;
    const double others = std::max(0.0, bent_ * (1.0 + summing) - own * (1.0 - summing));
    lo -= others;
    hi += others;
    linear_ *= 1.0 + summing;
    bent_ *= 1.0 + summing;
    rad_ = (linear_ + bent_ + err_) * (1.0 + 4.0 * rounding::unit);
    if (!(rad_ < 1e100) || !(std::abs(mid_) < 1e100)) {
      forget();
      return;
    }
    const double slack = err_ + (std::abs(mid_) + rad_) * summing;
    range_ = meet(range_, {rounding::down(mid_ + lo - slack), rounding::up(mid_ + hi + slack)});
    if (rad_ > 4.0 * (range_.hi - range_.lo)) forget();
  }
  /// Keeps the range alone.
  void forget() {
    c_.fill(0.0);
    q_.fill(0.0);
    linear_ = bent_ = 0.0;
    if (!(range_.hi - range_.lo < 1e100)) {
      mid_ = 0.0;
      err_ = rad_ = std::numeric_limits<double>::infinity();
      return;
    }
    mid_ = range_.middle();
    const bool one = mid_ == range_.lo && mid_ == range_.hi;
    err_ = rad_ = one ? 0.0 : rounding::up(std::max(rounding::up(range_.hi - mid_), rounding::up(mid_ - range_.lo)));
  }

  Interval range_;
  double mid_ = 0.0, err_ = 0.0;
  double linear_ = 0.0, bent_ = 0.0, rad_ = 0.0;  ///< Σ|cᵢ|, Σ|qᵢⱼ|, both and err; or more
  std::array<double, N> c_{};
  std::array<double, quadratic> q_{};  ///< row by row
};

}  // namespace trammel::math

#include "math/taylor_functions.hpp"
