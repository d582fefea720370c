#include "math/formula_plan.hpp"

namespace trammel::math {
namespace {

using Kind = Formula::Kind;
using Operation = Formula::Operation;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class Planner {
 public:
  explicit Planner(const Formula& formula)
      : formula_(formula), all_(formula.operations()), uses_(all_.size(), 0), slots_(all_.size(), 0) {
    for (const Operation& o : all_) {
      const std::array<int, 3> in{o.a, o.b, o.c};
      for (int k = 0; k < Formula::operands(o.kind); ++k) ++uses_[at(in[at(k)])];
    }
    for (int r = 0; r < formula.results(); ++r) ++uses_[at(formula.result_at(r))];
  }

  Plan plan() {
    Plan plan;
    plan.slots.end = at(formula_.inputs());
    std::vector<bool> joined(all_.size(), false);
    for (const Operation& o : all_)
      if (is_sum(o))
        for (const int operand : {o.a, o.b})
          if (joins(operand)) joined[at(operand)] = true;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      const Operation& o = all_[i];
      if (joined[i]) continue;
      slots_[i] = o.kind == Kind::input ? o.a : static_cast<int>(plan.slots.end++);
      if (o.kind == Kind::constant) plan.slots.constants.emplace_back(slots_[i], o.constant);
      if (Formula::operands(o.kind) == 0) continue;
      Step step = is_sum(o) ? sum(o) : Step{o.kind, 0, {slot(o.a), slot(o.b), slot(o.c)}};
      step.out = slots_[i];
      step.constant = o.constant;
      plan.steps.push_back(step);
    }
    for (int r = 0; r < formula_.results(); ++r) plan.slots.results.push_back(slot(formula_.result_at(r)));
    return plan;
  }

 private:
  static bool is_sum(const Operation& o) { return o.kind == Kind::add || o.kind == Kind::subtract; }
  /// Whether an operation is a product that nothing but one other operation needs.
  bool joins(int i) const { return all_[at(i)].kind == Kind::multiply && uses_[at(i)] == 1; }
  int slot(int i) const { return slots_[at(i)]; }

  Step sum(const Operation& o) const {
    const bool adds = o.kind == Kind::add, a = joins(o.a), b = joins(o.b);
    const auto factors = [&](int product) { return std::pair(slot(all_[at(product)].a), slot(all_[at(product)].b)); };
    Step step;
    if (a && b) {
      const auto [p, q] = factors(o.a);
      const auto [r, s] = factors(o.b);
      step.kind = adds ? Kind::sum_of_products : Kind::difference;
      step.in = {p, q, r, s};
    } else if (a) {
      const auto [p, q] = factors(o.a);
      step.kind = adds ? Kind::multiply_add : Kind::multiply_take;
      step.in = {p, q, slot(o.b)};
    } else if (b) {
      const auto [p, q] = factors(o.b);
      step.kind = adds ? Kind::multiply_add : Kind::take_product;
      step.in = {p, q, slot(o.a)};
    } else {
      step.kind = o.kind;
      step.in = {slot(o.a), slot(o.b)};
    }
    return step;
  }

  const Formula& formula_;
  const std::vector<Operation>& all_;
  std::vector<int> uses_;   ///< by operations, and as a result
  std::vector<int> slots_;  ///< where each operation's number stands
};

}  // namespace

Plan make_plan(const Formula& formula) {
  return Planner(formula).plan();
}

}  // namespace trammel::math
