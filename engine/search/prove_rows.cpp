#include "search/prove_rows.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::search {
namespace {

/// Of the slack that every row has been given, what rounding in sums over a row may take; see most_in_row.
constexpr double rounding = 0.25 * proof_slack;

/// Rounds of propagation, and the change below which there is no further one.
constexpr int most_rounds = 8;
constexpr double worth_a_round = 0.02;

constexpr int most_pivots = 200;

/// More rows than this are thinned out to those that ask for most.
constexpr std::size_t most_rows = 400;

}  // namespace

RowsLeave RowSolver::solve(const ProofRows& rows) {
  n_ = rows.variables;
  leave_ = {};
  leave_.lo.assign(n_, -1.0);
  leave_.hi.assign(n_, 1.0);
  leave_.empty = propagate(rows) || exclude(rows);
  if (!leave_.empty) leave_.empty = propagate(rows);
  return leave_;
}

bool RowSolver::propagate(const ProofRows& rows) {
  for (int round = 0; round < most_rounds; ++round) {
    double before = 0.0, after = 0.0;
    for (std::size_t i = 0; i < n_; ++i) before += leave_.hi[i] - leave_.lo[i];
    for (std::size_t k = 0; k < rows.rows.size(); ++k)
      if (propagate(rows.slopes_of(k), rows.rows[k].b, k)) return true;
    for (std::size_t i = 0; i < n_; ++i) after += leave_.hi[i] - leave_.lo[i];
    if (before - after < worth_a_round * before) break;
  }
  return false;
}

bool RowSolver::propagate(std::span<const double> slopes, double b, std::size_t row) {
  double least = b;
  for (std::size_t i = 0; i < n_; ++i) least += slopes[i] > 0.0 ? slopes[i] * leave_.lo[i] : slopes[i] * leave_.hi[i];
  if (least > rounding) {
    leave_.because = {{row, 1.0}};
    return true;
  }
  for (std::size_t i = 0; i < n_; ++i) {
    const double slope = slopes[i];
    // The others at their least leave this much for variable i.
    if (std::abs(slope) < 1e-9) continue;
    const double left = rounding - least, span = left / std::abs(slope);
    if (slope > 0.0) {
      const double hi = leave_.lo[i] + span + 1e-12;
      if (hi < leave_.hi[i]) leave_.hi[i] = hi;
    } else {
      const double lo = leave_.hi[i] - span - 1e-12;
      if (lo > leave_.lo[i]) leave_.lo[i] = lo;
    }
  }
  return false;
}

/// Largest Σ wₖ·bₖ − Σᵢ|Σ wₖ·aₖᵢ| over weights w ≥ 0 with the sum 1, over the box that is left, moved to −1 … 1: the
/// sum over k is pᵢ − qᵢ in variable i, of which p + q counts against the objective.
bool RowSolver::exclude(const ProofRows& rows) {
  if (rows.rows.empty()) return false;
  fill(rows);
  const std::size_t m = picked_.size(), width = columns_ + 1;
  double* const objective = &tableau_[(n_ + 1) * width];
  for (int step = 0; step < most_pivots; ++step) {
    if (-objective[columns_] > 2.0 * proof_slack) break;
    std::size_t enter = columns_;
    double best = 1e-9;
    for (std::size_t c = 0; c < columns_; ++c)
      if (objective[c] > best) best = objective[enter = c];
    if (enter == columns_) break;
    std::size_t leave = n_ + 1;
    double least = 0.0;
    for (std::size_t r = 0; r <= n_; ++r) {
      const double by = tableau_[r * width + enter];
      if (by < 1e-9) continue;
      const double ratio = tableau_[r * width + columns_] / by;
      if (leave == n_ + 1 || ratio < least) {
        least = ratio;
        leave = r;
      }
    }
    if (leave == n_ + 1) break;
    pivot(leave, enter);
  }
  leave_.because.clear();
  for (std::size_t r = 0; r <= n_; ++r)
    if (basis_[r] < m) {
      const double weight = tableau_[r * width + columns_];
      if (weight > 0.0) leave_.because.push_back({picked_[basis_[r]], weight});
    }
  return add_up(rows);
}

void RowSolver::fill(const ProofRows& rows) {
  picked_.clear();
  const auto least_of = [&](std::size_t k) {
    const auto slopes = rows.slopes_of(k);
    double least = rows.rows[k].b;
    for (std::size_t i = 0; i < n_; ++i) {
      const double middle = 0.5 * (leave_.lo[i] + leave_.hi[i]), half = 0.5 * (leave_.hi[i] - leave_.lo[i]);
      least += slopes[i] * middle - std::abs(slopes[i]) * half;
    }
    return least;
  };
  std::vector<double> least(rows.rows.size());
  for (std::size_t k = 0; k < rows.rows.size(); ++k) {
    least[k] = least_of(k);
    picked_.push_back(k);
  }
  if (picked_.size() > most_rows) {
    std::stable_sort(picked_.begin(), picked_.end(),
                     [&](std::size_t a, std::size_t b) { return rows.rows[a].b > rows.rows[b].b; });
    picked_.resize(most_rows);
  }
  const std::size_t m = picked_.size();
  columns_ = m + 2 * n_;
  const std::size_t width = columns_ + 1;
  tableau_.assign((n_ + 2) * width, 0.0);
  basis_.assign(n_ + 1, 0);
  double* const objective = &tableau_[(n_ + 1) * width];
  double* const sum = &tableau_[n_ * width];
  std::size_t first = 0;
  for (std::size_t c = 0; c < m; ++c) {
    const std::size_t k = picked_[c];
    if (least[k] > least[picked_[first]]) first = c;
    const auto slopes = rows.slopes_of(k);
    double b = rows.rows[k].b;
    for (std::size_t i = 0; i < n_; ++i) {
      const double middle = 0.5 * (leave_.lo[i] + leave_.hi[i]), half = 0.5 * (leave_.hi[i] - leave_.lo[i]);
      b += slopes[i] * middle;
      tableau_[i * width + c] = slopes[i] * half;
    }
    sum[c] = 1.0;
    objective[c] = b;
  }
  sum[columns_] = 1.0;
  for (std::size_t i = 0; i < n_; ++i) {
    double* const row = &tableau_[i * width];
    // Σ wₖ·aₖᵢ − p + q = 0, turned so that the one of p and q that the first row needs has the coefficient 1.
    row[m + 2 * i] = -1.0;
    row[m + 2 * i + 1] = 1.0;
    const bool positive = row[first] > 0.0;
    if (positive)
      for (std::size_t c = 0; c <= columns_; ++c) row[c] = -row[c];
    basis_[i] = m + 2 * i + (positive ? 0 : 1);
    objective[m + 2 * i] = objective[m + 2 * i + 1] = -1.0;
  }
  basis_[n_] = first;
  // The basis is cleared from the objective, and the first row's weight from all others.
  for (std::size_t i = 0; i < n_; ++i) {
    const double* const row = &tableau_[i * width];
    for (std::size_t c = 0; c <= columns_; ++c) objective[c] += row[c];
  }
  pivot(n_, first);
}

void RowSolver::pivot(std::size_t row, std::size_t column) {
  const std::size_t width = columns_ + 1;
  double* const own = &tableau_[row * width];
  const double inverse = 1.0 / own[column];
  for (std::size_t c = 0; c < width; ++c) own[c] *= inverse;
  own[column] = 1.0;
  for (std::size_t r = 0; r < n_ + 2; ++r) {
    double* const other = &tableau_[r * width];
    const double by = other[column];
    if (r == row || by == 0.0) continue;
    for (std::size_t c = 0; c < width; ++c) other[c] -= by * own[c];
    other[column] = 0.0;
  }
  basis_[row] = column;
}

bool RowSolver::add_up(const ProofRows& rows) {
  double weights = 0.0, b = 0.0;
  for (const RowWeight& w : leave_.because) weights += w.weight;
  if (!(weights > 0.0)) return false;
  sum_.assign(n_, 0.0);
  for (RowWeight& w : leave_.because) {
    w.weight /= weights;
    const auto slopes = rows.slopes_of(w.row);
    b += w.weight * rows.rows[w.row].b;
    for (std::size_t i = 0; i < n_; ++i) sum_[i] += w.weight * slopes[i];
  }
  const std::vector<RowWeight> because = leave_.because;
  if (!propagate(sum_, b, 0)) return false;
  leave_.because = because;
  return true;
}

}  // namespace trammel::search
