// Four-bar path synthesis as least squares: problems of which every real solution is known to be one of so many.
#pragma once

#include <array>
#include <cmath>
#include <vector>

#include "tests/search/optimiser_problems.hpp"

namespace trammel::test {

/// A number from the whole line for u in [0, 1], densest around `middle`: middle + size·(2u − 1)/(1 − (2u − 1)²).
template <class T>
T stretched(const T& u, double middle, double size) {
  const T s = 2.0 * u - 1.0;
  return s * size / (1.0 + 1e-6 - s * s) + middle;
}

template <class T>
struct Spot {
  T x, y;
};

/// The misfit of a coupler path through points P0 … Pm. The coupler carries the moving pivots X and Y, which turn about
/// the fixed ones A and B; X and Y are where they are while the coupler point is on P0. At Pj the coupler has turned by
/// an angle whose cosine c and sine s obey two linear equations (the lengths of both links); what is left is how far
/// c² + s² is from 1, in a form that stays finite.
template <class T>
T path_misfit(const std::vector<Spot<double>>& points, const std::array<Spot<T>, 4>& a_b_x_y) {
  const auto& [a, b, px, py] = a_b_x_y;
  T sum(0.0);
  struct Link {
    T re, im, right;
  };
  for (std::size_t j = 1; j < points.size(); ++j) {
    const auto link = [&](const Spot<T>& fixed, const Spot<T>& moving) {
      const T wx = moving.x - points[0].x, wy = moving.y - points[0].y;
      const T dx = points[j].x - fixed.x, dy = points[j].y - fixed.y;
      const T rx = moving.x - fixed.x, ry = moving.y - fixed.y;
      // |d + (c + is)·w|² = |r|²: 2c·(d·w) + 2s·(d × w, turned) = |r|² − |d|² − |w|²
      return Link{wx * dx + wy * dy, wx * dy - wy * dx,
                  (rx * rx + ry * ry - dx * dx - dy * dy - wx * wx - wy * wy) * 0.5};
    };
    const Link k = link(a, px), l = link(b, py);
    const T det = k.re * l.im - k.im * l.re;
    const T c = k.right * l.im - k.im * l.right, s = k.re * l.right - k.right * l.re;
    const T r = (c * c + s * s - det * det) / (c * c + s * s + det * det + 1e-12);
    sum = sum + r * r;
  }
  return sum;
}

}  // namespace trammel::test
