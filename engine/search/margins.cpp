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
    if (demands.targets[t].between) continue;  // judged over the cases: see each_difference
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

/// A margin of a target that compares cases: how far values[more] − values[less] is inside one of its limits.
struct DifferenceMargin {
  Margin margin;
  std::size_t more, less;
  double rate;  ///< of the margin with the difference
};

/// Hands every margin of a comparison to take(…), in a fixed order. What is to be at most so much over all cases is so
/// over every two of them, which has no kink where the greatest or the least value changes its case.
template <class Take>
void each_difference(const objectives::Comparison& one, const objectives::Target& target,
                     const std::vector<double>& values, Take take) {
  const objectives::Allowed allowed = objectives::allowed_at(target, 0.0);
  const double rate = 1.0 / allowed.depth;
  const auto hand = [&](double inside, std::size_t more, std::size_t less, double sign) {
    take(DifferenceMargin{{inside * rate, target.must, true}, more, less, sign * rate});
  };
  const objectives::Difference d = objectives::difference(one, values);
  if (std::isfinite(allowed.lo)) hand(d.value - allowed.lo, d.more, d.less, 1.0);
  if (!std::isfinite(allowed.hi)) return;
  if (one.named) return hand(allowed.hi - d.value, d.more, d.less, -1.0);
  for (std::size_t more = 0; more < values.size(); ++more)
    for (std::size_t less = 0; less < values.size(); ++less)
      if (more != less) hand(allowed.hi - (values[more] - values[less]), more, less, -1.0);
}

}  // namespace

const std::vector<Margin>& Margins::at(std::span<const double> x) {
  margins_.clear();
  scorer_.each_case(x, false, [&](const Scorer::CaseView& view) {
    each_margin(view.demands, view.outcome, [&](const Margin& margin, const Row&) { margins_.push_back(margin); });
  });
  for (const objectives::Comparison& one : scorer_.setup().comparisons)
    each_difference(one, scorer_.setup().brief.targets[one.target], scorer_.values_of(one),
                    [&](const DifferenceMargin& of) { margins_.push_back(of.margin); });
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
  for (const objectives::Comparison& one : scorer_.setup().comparisons)
    each_difference(one, scorer_.setup().brief.targets[one.target], scorer_.values_of(one),
                    [&](const DifferenceMargin& of) {
                      if (next == asked.numbers.size() || asked.numbers[next] != number++) return;
                      asked.values[next] = of.margin.value;
                      if (!asked.slopes.empty()) {
                        const std::span<double> into = asked.slopes.subspan(next * n, n);
                        std::fill(into.begin(), into.end(), 0.0);
                        scorer_.add_slopes(one, {0.0, of.more, of.less}, of.rate, into);
                      }
                      ++next;
                    });
  if (asked.score != nullptr) *asked.score += scorer_.differences(wishes_alone, asked.score_slopes);
}

}  // namespace trammel::search
