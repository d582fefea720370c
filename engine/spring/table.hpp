// A measured spring: force over compression, interpolated without adding bumps of its own.
#pragma once

#include <utility>
#include <vector>

#include "math/number_types.hpp"

namespace trammel::spring {

/// Cubic Hermite pieces through measured points, once continuously differentiable, monotone wherever the points are.
/// Slopes inside: the weighted harmonic mean of the neighbouring secants; at the ends: the parabola through three
/// points, held to the secant's sign and to three times the secant. Source: Fritsch & Butland, "A method for
/// constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5 (1984) 300–304 (from
/// memory). Outside the points it goes on straight.
///
/// The value is a sum over all pieces, each at its argument clamped to its own stretch, so that no comparison chooses
/// the piece: lanes that stand in different pieces go through the same lines.
class Table {
 public:
  using Point = std::pair<double, double>;  ///< compression in mm, force in N

  Table() = default;
  /// At least two points, compressions rising, the first at 0.
  explicit Table(std::vector<Point> points);

  const std::vector<Point>& points() const { return points_; }

  /// Force in N at compression c (mm).
  template <class T>
  T force(const T& c) const {
    T sum = T(first_) + below(c) * start_slope_ + above(c) * end_slope_;
    for (const Piece& p : pieces_) {
      const T w = p.within(c);
      sum = sum + w * (w * (w * p.cubic + p.square) + p.slope);
    }
    return sum;
  }
  /// dF/dc in N/mm, exact.
  template <class T>
  T stiffness(const T& c) const {
    T sum(start_slope_);
    for (const Piece& p : pieces_) {
      const T w = p.within(c);
      sum = sum + w * (w * (3.0 * p.cubic) + 2.0 * p.square);
    }
    return sum;
  }
  /// ∫F dc from c = 0, N·mm, exact.
  template <class T>
  T energy(const T& c) const {
    const T before = below(c), beyond = above(c);
    T sum = c * first_ + before * before * (0.5 * start_slope_) + beyond * beyond * (0.5 * end_slope_);
    for (const Piece& p : pieces_) {
      const T w = p.within(c), passed = math::max(c - (p.start + p.width), T(0.0));
      sum = sum + w * w * (w * (w * (0.25 * p.cubic) + p.square * (1.0 / 3.0)) + 0.5 * p.slope) + passed * p.gain;
    }
    return sum;
  }

  friend bool operator==(const Table& a, const Table& b) { return a.points_ == b.points_; }

 private:
  /// F rises over the piece by slope·w + square·w² + cubic·w³, w from its start.
  struct Piece {
    double start, width, slope, square, cubic, gain;
    template <class T>
    T within(const T& c) const {
      return math::min(math::max(c - start, T(0.0)), T(width));
    }
  };
  template <class T>
  T below(const T& c) const {
    return math::min(c - pieces_.front().start, T(0.0));
  }
  template <class T>
  T above(const T& c) const {
    return math::max(c - (pieces_.back().start + pieces_.back().width), T(0.0));
  }

  std::vector<Point> points_;
  std::vector<Piece> pieces_;
  double first_ = 0.0, start_slope_ = 0.0, end_slope_ = 0.0;
};

}  // namespace trammel::spring
