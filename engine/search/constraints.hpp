// Values and rules of a layout as rows of a problem with constraints, each with its exact slopes.
#pragma once

#include <cmath>
#include <span>
#include <utility>
#include <vector>

#include "search/score.hpp"

namespace trammel::search {

/// A number of a problem: rate · quantity + a constant.
struct Row {
  double value = 0.0;
  objectives::Quantity quantity;
  double rate = 0.0;
};

/// Hands to below(row) and above(row) how far each value of a case's target t is under and over what is allowed, in
/// units of `unit(allowed)`; infinitely far inside where there is no limit on that side.
template <class Unit, class Below, class Above>
void each_side(const objectives::Demands& demands, const objectives::Outcome<double>& found, std::size_t t, Unit unit,
               Below below, Above above) {
  for (std::size_t i = 0; i < found.values[t].size(); ++i) {
    const objectives::Allowed& allowed = demands.allowed[t][i];
    const double rate = 1.0 / unit(allowed), value = found.values[t][i];
    const objectives::Quantity quantity{objectives::Quantity::Kind::value, t, i};
    below(Row{(allowed.lo - value) * rate, quantity, -rate});
    above(Row{(value - allowed.hi) * rate, quantity, rate});
  }
}

/// Gathers the rows of one case whose slopes are wanted, and computes them together: side by side they cost least.
class RowSlopes {
 public:
  void clear() {
    quantities_.clear();
    wanted_.clear();
  }
  /// `into` receives the slopes of the row with respect to each variable.
  void want(const Row& row, std::span<double> into) {
    quantities_.push_back(row.quantity);
    wanted_.emplace_back(row.rate, into);
  }
  /// Of the layout that `view` tells of, with slopes.
  void compute(const Scorer::CaseView& view) {
    if (wanted_.empty()) return;
    const std::size_t n = view.tangents.variables();
    rows_.resize(wanted_.size() * n);
    view.evaluator.slopes(view.tangents, quantities_, rows_);
    for (std::size_t r = 0; r < wanted_.size(); ++r)
      for (std::size_t i = 0; i < n; ++i) wanted_[r].second[i] = wanted_[r].first * rows_[r * n + i];
  }

 private:
  std::vector<objectives::Quantity> quantities_;
  std::vector<std::pair<double, std::span<double>>> wanted_;  ///< of each quantity: its rate and where its row goes
  std::vector<double> rows_;
};

}  // namespace trammel::search
