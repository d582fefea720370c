// Rows of a box put to use: which part of the box they leave, and whether they exclude each other.
#pragma once

#include <vector>

#include "search/prove_box.hpp"

namespace trammel::search {

/// Row `row` counts `weight` times.
struct RowWeight {
  std::size_t row = 0;
  double weight = 0.0;
};

/// The part [lo, hi] of every variable's −1 … 1 that is left, and why none is where none is.
struct RowsLeave {
  std::vector<double> lo, hi;
  bool empty = false;
  std::vector<RowWeight> because;  ///< rows that together leave nothing
};

/// Per-task workspace.
///
/// Each row by itself bounds each variable, given the others' bounds (interval propagation, e.g. Jaulin, Kieffer,
/// Didrit & Walter, Applied Interval Analysis (2001), sec. 4.2; from memory). All rows together exclude each other
/// where they have a sum, with weights ≥ 0, that is above 0 everywhere in the box (Farkas). The best weights are those
/// of a linear program, solved by the simplex method in floating point; what it finds is checked by adding up, so that
/// its own errors do no harm (Neumaier & Shcherbina, Safe bounds in linear and mixed-integer linear programming, Math.
/// Program. 99 (2004) 283–296; from memory). Its sum is a row like the others, and bounds variables, too.
class RowSolver {
 public:
  RowsLeave solve(const ProofRows& rows);

 private:
  bool propagate(const ProofRows& rows);
  bool propagate(std::span<const double> slopes, double b, std::size_t row);
  /// The linear program for the box that is left; true if the rows exclude each other.
  bool exclude(const ProofRows& rows);
  void fill(const ProofRows& rows);
  void pivot(std::size_t row, std::size_t column);
  /// Whether the weights that were found do exclude each other; bounds variables by their sum.
  bool add_up(const ProofRows& rows);

  std::size_t n_ = 0, columns_ = 0;
  std::vector<double> tableau_;  ///< n + 2 rows: one a variable, one for the weights' sum, the objective
  std::vector<std::size_t> basis_, picked_;
  std::vector<double> sum_;
  RowsLeave leave_;
};

}  // namespace trammel::search
