// Published problems with two and three objectives, written once for derivative-carrying numbers.
//
// ZDT: Zitzler, Deb & Thiele, "Comparison of multiobjective evolutionary algorithms", Evol. Comput. 8 (2000). TNK:
// Tanaka et al. (1995). OSY: Osyczka & Kundu, Struct. Optim. 10 (1995). DTLZ: Deb, Thiele, Laumanns & Zitzler (CEC
// 2002). Formulas as commonly reprinted; citations from memory.
#pragma once

#include "search/front.hpp"
#include "tests/search/optimiser_problems.hpp"

namespace trammel::test {

template <int N>
Dual<N> exponential(const Dual<N>& x) {
  return {std::exp(x.v), x.d * std::exp(x.v)};
}
/// x^p for 0 < p < 1; the infinite slope at 0 is cut off.
template <int N>
Dual<N> root(const Dual<N>& x, double p) {
  const double at = std::max(x.v, 1e-9);
  return {std::pow(std::max(x.v, 0.0), p), x.d * (p * std::pow(at, p - 1.0))};
}

/// ZDT1, 2, 3 have 30 variables, ZDT6 has 10; all in [0, 1]. In ZDT6 the distance from the front is the fourth root of
/// the other variables' mean, whose slope at the front is infinite; here each of them is the fourth power of the box's
/// coordinate, which leaves the slope finite and the objectives' values what they were.
template <int Number>
struct Zdt {
  static constexpr int n = Number == 6 ? 10 : 30, constraints = 0, objectives = 2, width = Number == 6 ? 10 : 30;
  std::vector<double> lo = std::vector<double>(n, 0.0), hi = std::vector<double>(n, 1.0);

  /// The true front: the second objective that belongs to a first.
  static double front(double f1) {
    if (Number == 1) return 1.0 - std::sqrt(f1);
    if (Number == 3) return 1.0 - std::sqrt(f1) - f1 * std::sin(10.0 * math::pi * f1);
    return 1.0 - f1 * f1;
  }

  template <class T>
  static void evaluate(const std::vector<T>& x, std::vector<T>& f, std::vector<T>&) {
    T sum(0.0);
    for (std::size_t i = 1; i < x.size(); ++i) sum = sum + (Number == 6 ? power(x[i], 4) : x[i]);
    sum = sum * (1.0 / (n - 1));
    if constexpr (Number == 6) {
      f[0] = 1.0 - exponential(-4.0 * x[0]) * power(sine(6.0 * math::pi * x[0]), 6);
      const T g = 1.0 + 9.0 * root(sum, 0.25);
      f[1] = g - f[0] * f[0] / g;
    } else {
      f[0] = x[0];
      const T g = 1.0 + 9.0 * sum, h = f[0] / g;
      if constexpr (Number == 1) f[1] = g * (1.0 - root(h, 0.5));
      if constexpr (Number == 2) f[1] = g * (1.0 - math::square(h));
      if constexpr (Number == 3) f[1] = g * (1.0 - root(h, 0.5) - h * sine(10.0 * math::pi * f[0]));
    }
  }
};

struct Tnk {
  static constexpr int n = 2, constraints = 2, objectives = 2, width = 2;
  std::vector<double> lo{0, 0}, hi{math::pi, math::pi};
  template <class T>
  static void evaluate(const std::vector<T>& x, std::vector<T>& f, std::vector<T>& g) {
    using math::atan2;
    using math::cos;
    f = x;
    g[0] = 1.0 + 0.1 * cos(16.0 * atan2(x[0], x[1])) - math::square(x[0]) - math::square(x[1]);
    g[1] = math::square(x[0] - 0.5) + math::square(x[1] - 0.5) - 0.5;
  }
};

struct Osy {
  static constexpr int n = 6, constraints = 6, objectives = 2, width = 6;
  std::vector<double> lo{0, 0, 1, 0, 1, 0}, hi{10, 10, 5, 6, 5, 10};
  template <class T>
  static void evaluate(const std::vector<T>& x, std::vector<T>& f, std::vector<T>& g) {
    using math::square;
    f[0] = -(25.0 * square(x[0] - 2.0) + square(x[1] - 2.0) + square(x[2] - 1.0) + square(x[3] - 4.0) +
             square(x[4] - 1.0));
    f[1] = square(x[0]) + square(x[1]) + square(x[2]) + square(x[3]) + square(x[4]) + square(x[5]);
    g[0] = 2.0 - x[0] - x[1];
    g[1] = x[0] + x[1] - 6.0;
    g[2] = x[1] - x[0] - 2.0;
    g[3] = x[0] - 3.0 * x[1] - 2.0;
    g[4] = square(x[2] - 3.0) + x[3] - 4.0;
    g[5] = 4.0 - square(x[4] - 3.0) - x[5];
  }
};

/// Three objectives; the true front is the octant of the unit sphere.
struct Dtlz2 {
  static constexpr int n = 12, constraints = 0, objectives = 3, width = 12;
  std::vector<double> lo = std::vector<double>(n, 0.0), hi = std::vector<double>(n, 1.0);
  template <class T>
  static void evaluate(const std::vector<T>& x, std::vector<T>& f, std::vector<T>&) {
    using math::cos;
    using math::sin;
    T g(1.0);
    for (std::size_t i = 2; i < x.size(); ++i) g = g + math::square(x[i] - 0.5);
    const T a = x[0] * (0.5 * math::pi), b = x[1] * (0.5 * math::pi);
    f[0] = g * cos(a) * cos(b);
    f[1] = g * cos(a) * sin(b);
    f[2] = g * sin(a);
  }
};

/// The case on the unit box, slopes by differentiation of its formulas.
template <class Case>
search::FrontProblem front_problem(const Case& c) {
  search::FrontProblem problem;
  problem.n = Case::n;
  problem.constraints = Case::constraints;
  for (int k = 0; k < Case::objectives; ++k) problem.figure_of.push_back(k);
  problem.evaluate = [c](std::span<const double> u, search::FrontEvaluation& out) {
    using T = Dual<Case::width>;
    const std::vector<double> at = unscale(c, u);
    const std::size_t n = at.size();
    std::vector<T> x, f(Case::objectives), g(Case::constraints);
    for (std::size_t i = 0; i < n; ++i) x.push_back(T::variable(at[i], static_cast<int>(i), c.hi[i] - c.lo[i]));
    Case::evaluate(x, f, g);
    const auto write = [n](const std::vector<T>& from, std::span<double> values, std::span<double> slopes) {
      for (std::size_t k = 0; k < from.size(); ++k) {
        values[k] = from[k].v;
        for (std::size_t i = 0; i < n && !slopes.empty(); ++i) slopes[k * n + i] = from[k].d[i];
      }
    };
    write(f, out.parts, out.part_slopes);
    write(g, out.constraints, out.jacobian);
    return true;
  };
  return problem;
}

}  // namespace trammel::test
