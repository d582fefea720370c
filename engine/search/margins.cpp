#include "search/margins.hpp"

#include <algorithm>

#include "objectives/rules/margins.hpp"

namespace trammel::search {
namespace {

/// Only wishes count.
constexpr objectives::Emphasis wishes_alone{0.0, 0.0};

/// Hands every margin of a case to take(margin, row), in a fixed order; the row's value is the margin.
template <class Take>
void each_margin(const objectives::Demands& demands, const objectives::Outcome<double>& found, Take take) {
  for (std::size_t t = 0; t < demands.targets.size(); ++t) {
    const bool own = demands.targets[t].origin == objectives::Origin::brief;
    const auto side = [&](const Row& outside) {
      if (std::isfinite(outside.value))
        take(Margin{-outside.value, demands.targets[t].must, own},
             Row{-outside.value, outside.quantity, -outside.rate});
    };
    each_side(
        demands, found, t, [](const objectives::Allowed& allowed) { return allowed.depth; }, side, side);
  }
  objectives::each_rule_margin(demands, found, [&](const objectives::Quantity& quantity, double margin, double slope) {
    take(Margin{margin, true, false}, Row{margin, quantity, slope});
  });
}

}  // namespace

const std::vector<Margin>& Margins::at(std::span<const double> x) {
  margins_.clear();
  scorer_.each_case(x, false, [&](const Scorer::CaseView& view) {
    each_margin(view.demands, view.outcome, [&](const Margin& margin, const Row&) { margins_.push_back(margin); });
  });
  return margins_;
}

void Margins::evaluate(std::span<const double> x, const Asked& asked) {
  const std::size_t n = x.size();
  const bool slopes = !asked.slopes.empty() || !asked.score_slopes.empty();
  std::size_t number = 0, next = 0;
  if (asked.score != nullptr) *asked.score = 0.0;
  std::fill(asked.score_slopes.begin(), asked.score_slopes.end(), 0.0);
  scorer_.each_case(x, slopes, [&](const Scorer::CaseView& view) {
    rows_.clear();
    each_margin(view.demands, view.outcome, [&](const Margin&, const Row& row) {
      if (next == asked.numbers.size() || asked.numbers[next] != number++) return;
      asked.values[next] = row.value;
      if (!asked.slopes.empty()) rows_.want(row, asked.slopes.subspan(next * n, n));
      ++next;
    });
    if (slopes) rows_.compute(view);
    if (asked.score == nullptr) return;
    *asked.score += objectives::figure(view.demands, view.outcome, wishes_alone);
    if (asked.score_slopes.empty()) return;
    gradient_.resize(n);
    view.evaluator.gradient(view.tangents, wishes_alone, gradient_);
    for (std::size_t i = 0; i < n; ++i) asked.score_slopes[i] += gradient_[i];
  });
}

}  // namespace trammel::search
