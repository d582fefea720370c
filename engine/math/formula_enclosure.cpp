#include "math/formula_enclosure.hpp"

namespace trammel::math {
namespace {

using Kind = Formula::Kind;

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

/// What an operation is known as.
FormulaExcerpt::Kind known_as(const std::vector<Formula::Operation>& all, const Formula::Operation& o) {
  using enum FormulaExcerpt::Kind;
  if (o.kind == Kind::multiply && o.a == o.b) return square;
  if (o.kind != Kind::choose) return plain;
  const Formula::Operation& condition = all[index(o.a)];
  if (condition.kind != Kind::less) return plain;
  if (condition.a == o.c && condition.b == o.b) return greater;
  if (condition.a == o.b && condition.b == o.c) return lesser;
  const Formula::Operation &yes = all[index(o.b)], &limit = all[index(condition.b)];
  const bool below_nothing = limit.kind == Kind::constant && limit.constant == 0.0;
  if (below_nothing && condition.a == o.c && yes.kind == Kind::negate && yes.a == o.c) return absolute;
  return plain;
}

}  // namespace

FormulaExcerpt::FormulaExcerpt(const Formula& formula, const std::vector<int>& results)
    : input_at_(formula.input_operations()),
      result_at_(formula.result_operations()),
      size_(formula.operations().size()) {
  const std::vector<Formula::Operation>& all = formula.operations();
  std::vector<bool> needed(all.size(), false);
  for (const int r : results) needed[index(formula.result_at(r))] = true;
  for (std::size_t i = all.size(); i-- > 0;)
    if (needed[i]) Formula::each_operand(all[i], [&](int operand) { needed[index(operand)] = true; });
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!needed[i]) continue;
    if (all[i].kind == Formula::Kind::input)
      inputs_.push_back(all[i].a);
    else
      steps_.push_back({all[i], static_cast<int>(i), known_as(all, all[i])});
  }
}

std::vector<FormulaExcerpt::Guarded> FormulaExcerpt::guarded(const Formula& formula, double share) const {
  const std::vector<Formula::Operation>& all = formula.operations();
  const auto of = [&](int i) -> const Formula::Operation& { return all[index(i)]; };
  // The limit is share · scale, or share · min(scale, 1), itself kept from falling too low.
  const auto scale_of = [&](int limit) {
    if (of(limit).kind == Formula::Kind::choose && of(of(limit).b).kind == Formula::Kind::constant) limit = of(limit).c;
    const Formula::Operation& product = of(limit);
    if (product.kind != Formula::Kind::multiply) return -1;
    const auto is_share = [&](int i) { return of(i).kind == Formula::Kind::constant && of(i).constant == share; };
    if (!is_share(product.a) && !is_share(product.b)) return -1;
    const int scale = is_share(product.a) ? product.b : product.a;
    const Formula::Operation& o = of(scale);
    if (known_as(all, o) != Kind::lesser) return scale;
    return of(o.b).kind == Formula::Kind::constant ? o.c : o.b;
  };
  std::vector<Guarded> out;
  for (std::size_t i = 0; i < steps_.size(); ++i) {
    if (steps_[i].kind != Kind::greater) continue;
    const int b = steps_[i].operation.b, c = steps_[i].operation.c;
    for (const auto& [number, limit] : {std::pair(b, c), std::pair(c, b)})
      if (const int scale = scale_of(limit); scale >= 0 && of(number).kind != Formula::Kind::constant)
        out.push_back({i, number, limit, scale});
  }
  return out;
}

}  // namespace trammel::math
