// Published test problems, written once for plain and derivative-carrying numbers, scaled to the unit box.
//
// G6 … G24: Liang et al., Problem definitions and evaluation criteria for the CEC 2006 special session on constrained
// real-parameter optimization, TR 2006. Formulas and optimal points as commonly reprinted; the optimal values are that
// report's, and the tests first check that formula, point and value agree with one another.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "math/dual.hpp"
#include "search/optimiser.hpp"

namespace trammel::test {

template <int N>
using Dual = math::Dual<N>;

inline double sine(double x) {
  return std::sin(x);
}
template <int N>
Dual<N> sine(const Dual<N>& x) {
  return {std::sin(x.v), x.d * std::cos(x.v)};
}

template <class T>
T power(const T& x, int n) {
  T product = x;
  for (int i = 1; i < n; ++i) product = product * x;
  return product;
}

struct G6 {
  static constexpr int n = 2, constraints = 2, width = 2;
  static constexpr double value = -6961.8138755801;
  std::vector<double> lo{13, 0}, hi{100, 100}, best{14.095, 0.84296078922};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    using math::square;
    g[0] = 100.0 - square(x[0] - 5.0) - square(x[1] - 5.0);
    g[1] = square(x[0] - 6.0) + square(x[1] - 5.0) - 82.81;
    return power(x[0] - 10.0, 3) + power(x[1] - 20.0, 3);
  }
};

struct G7 {
  static constexpr int n = 10, constraints = 8, width = 16;
  static constexpr double value = 24.3062090689;
  std::vector<double> lo = std::vector<double>(10, -10.0), hi = std::vector<double>(10, 10.0),
                      best{2.171997834812, 2.363679362798, 8.773925117415, 5.095984215855, 0.990655966387,
                           1.430578427576, 1.321647038816, 9.828728107011, 8.280094195305, 8.375923511901};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    using math::square;
    g[0] = 4.0 * x[0] + 5.0 * x[1] - 3.0 * x[6] + 9.0 * x[7] - 105.0;
    g[1] = 10.0 * x[0] - 8.0 * x[1] - 17.0 * x[6] + 2.0 * x[7];
    g[2] = -8.0 * x[0] + 2.0 * x[1] + 5.0 * x[8] - 2.0 * x[9] - 12.0;
    g[3] = 3.0 * square(x[0] - 2.0) + 4.0 * square(x[1] - 3.0) + 2.0 * square(x[2]) - 7.0 * x[3] - 120.0;
    g[4] = 5.0 * square(x[0]) + 8.0 * x[1] + square(x[2] - 6.0) - 2.0 * x[3] - 40.0;
    g[5] = square(x[0]) + 2.0 * square(x[1] - 2.0) - 2.0 * x[0] * x[1] + 14.0 * x[4] - 6.0 * x[5];
    g[6] = 0.5 * square(x[0] - 8.0) + 2.0 * square(x[1] - 4.0) + 3.0 * square(x[4]) - x[5] - 30.0;
    g[7] = -3.0 * x[0] + 6.0 * x[1] + 12.0 * square(x[8] - 8.0) - 7.0 * x[9];
    return square(x[0]) + square(x[1]) + x[0] * x[1] - 14.0 * x[0] - 16.0 * x[1] + square(x[2] - 10.0) +
           4.0 * square(x[3] - 5.0) + square(x[4] - 3.0) + 2.0 * square(x[5] - 1.0) + 5.0 * square(x[6]) +
           7.0 * square(x[7] - 11.0) + 2.0 * square(x[8] - 10.0) + square(x[9] - 7.0) + 45.0;
  }
};

struct G8 {
  static constexpr int n = 2, constraints = 2, width = 2;
  static constexpr double value = -0.0958250414180;
  std::vector<double> lo{0, 0}, hi{10, 10}, best{1.22797135260752599, 4.24537336612274885};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    using math::square;
    g[0] = square(x[0]) - x[1] + 1.0;
    g[1] = 1.0 - x[0] + square(x[1] - 4.0);
    return -power(sine(2.0 * math::pi * x[0]), 3) * sine(2.0 * math::pi * x[1]) / (power(x[0], 3) * (x[0] + x[1]));
  }
};

struct G9 {
  static constexpr int n = 7, constraints = 4, width = 8;
  static constexpr double value = 680.6300573744;
  std::vector<double> lo = std::vector<double>(7, -10.0), hi = std::vector<double>(7, 10.0),
                      best{2.330499493233,  1.951372396466, -0.477540417662, 4.365726128528,
                           -0.624487075837, 1.038130923021, 1.594226632220};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    using math::square;
    g[0] = 2.0 * square(x[0]) + 3.0 * power(x[1], 4) + x[2] + 4.0 * square(x[3]) + 5.0 * x[4] - 127.0;
    g[1] = 7.0 * x[0] + 3.0 * x[1] + 10.0 * square(x[2]) + x[3] - x[4] - 282.0;
    g[2] = 23.0 * x[0] + square(x[1]) + 6.0 * square(x[5]) - 8.0 * x[6] - 196.0;
    g[3] = 4.0 * square(x[0]) + square(x[1]) - 3.0 * x[0] * x[1] + 2.0 * square(x[2]) + 5.0 * x[5] - 11.0 * x[6];
    return square(x[0] - 10.0) + 5.0 * square(x[1] - 12.0) + power(x[2], 4) + 3.0 * square(x[3] - 11.0) +
           10.0 * power(x[4], 6) + 7.0 * square(x[5]) + power(x[6], 4) - 4.0 * x[5] * x[6] - 10.0 * x[5] - 8.0 * x[6];
  }
};

struct G10 {
  static constexpr int n = 8, constraints = 6, width = 8;
  static constexpr double value = 7049.2480218072;
  std::vector<double> lo{100, 1000, 1000, 10, 10, 10, 10, 10}, hi{10000, 10000, 10000, 1000, 1000, 1000, 1000, 1000},
      best{579.29340269759155, 1359.97691009458777, 5109.97770901501008, 182.01659025342749,
           295.60089166064103, 217.98340973906758,  286.41569858295981,  395.60089165381908};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    // The last three by their size, so that all are of one order; the feasible set is the same.
    g[0] = 0.0025 * (x[3] + x[5]) - 1.0;
    g[1] = 0.0025 * (x[4] + x[6] - x[3]) - 1.0;
    g[2] = 0.01 * (x[7] - x[4]) - 1.0;
    g[3] = (100.0 * x[0] - x[0] * x[5] + 833.33252 * x[3] - 83333.333) * 1e-6;
    g[4] = (x[1] * x[3] - x[1] * x[6] - 1250.0 * x[3] + 1250.0 * x[4]) * 1e-6;
    g[5] = (x[2] * x[4] - x[2] * x[7] - 2500.0 * x[4] + 1250000.0) * 1e-6;
    return x[0] + x[1] + x[2];
  }
};

/// Feasible within 0.25 of any of 729 points of a lattice.
struct G12 {
  static constexpr int n = 3, constraints = 1, width = 4;
  static constexpr double value = -1.0;
  std::vector<double> lo{0, 0, 0}, hi{10, 10, 10}, best{5, 5, 5};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    T sum(0.0);
    g[0] = T(-0.0625);
    for (const T& xi : x) {
      sum = sum + math::square(xi - 5.0);
      g[0] = g[0] + math::square(xi - std::clamp(std::round(math::value(xi)), 1.0, 9.0));  // the nearest centre
    }
    return 0.01 * sum - 1.0;
  }
};

struct G24 {
  static constexpr int n = 2, constraints = 2, width = 2;
  static constexpr double value = -5.5080132716;
  std::vector<double> lo{0, 0}, hi{3, 4}, best{2.329520197477607, 3.17849307411768};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>& g) {
    using math::square;
    g[0] = -2.0 * power(x[0], 4) + 8.0 * power(x[0], 3) - 8.0 * square(x[0]) + x[1] - 2.0;
    g[1] = -4.0 * power(x[0], 4) + 32.0 * power(x[0], 3) - 88.0 * square(x[0]) + 96.0 * x[0] + x[1] - 36.0;
    return -x[0] - x[1];
  }
};

// Unconstrained, minimum 0 (from memory; plain to check by hand).
struct Sphere {
  static constexpr int n = 3, constraints = 0, width = 4;
  std::vector<double> lo = std::vector<double>(3, -4.0), hi = std::vector<double>(3, 6.0);
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>&) {
    return math::square(x[0]) + math::square(x[1]) + math::square(x[2]);
  }
};

struct Rosenbrock {  // minimum at (1, 1)
  static constexpr int n = 2, constraints = 0, width = 2;
  std::vector<double> lo{-2, -2}, hi{2, 3};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>&) {
    return 100.0 * math::square(x[1] - math::square(x[0])) + math::square(1.0 - x[0]);
  }
};

struct Himmelblau {  // four minima
  static constexpr int n = 2, constraints = 0, width = 2;
  std::vector<double> lo{-6, -6}, hi{6, 6};
  template <class T>
  static T evaluate(const std::vector<T>& x, std::vector<T>&) {
    return math::square(math::square(x[0]) + x[1] - 11.0) + math::square(x[0] + math::square(x[1]) - 7.0);
  }
};

/// The problem's own coordinates of a point of the unit box.
template <class Case>
std::vector<double> unscale(const Case& c, std::span<const double> u) {
  std::vector<double> x;
  for (std::size_t i = 0; i < u.size(); ++i) x.push_back(c.lo[i] + u[i] * (c.hi[i] - c.lo[i]));
  return x;
}

/// The case as a problem on the unit box, slopes by differentiation of its formula.
template <class Case>
search::Problem unit_problem(const Case& c) {
  return {Case::n, Case::constraints, [c](std::span<const double> u, search::Evaluation& out) {
            using T = Dual<Case::width>;
            const std::vector<double> at = unscale(c, u);
            std::vector<T> x, g(out.constraints.size());
            for (std::size_t i = 0; i < at.size(); ++i) {
              x.push_back(T::variable(at[i], static_cast<int>(i), c.hi[i] - c.lo[i]));
            }
            const T f = Case::evaluate(x, g);
            out.value = f.v;
            for (std::size_t i = 0; i < out.gradient.size(); ++i) out.gradient[i] = f.d[i];
            for (std::size_t k = 0; k < g.size(); ++k) {
              out.constraints[k] = g[k].v;
              if (out.jacobian.empty()) continue;
              for (std::size_t i = 0; i < at.size(); ++i) out.jacobian[k * at.size() + i] = g[k].d[i];
            }
            return true;
          }};
}

}  // namespace trammel::test
