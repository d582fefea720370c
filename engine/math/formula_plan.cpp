#include "math/formula_plan.hpp"

#include <algorithm>

namespace trammel::math {
namespace {

using Kind = Formula::Kind;
using Operation = Formula::Operation;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

int operands(Kind kind) {
  switch (kind) {
    case Kind::input:
    case Kind::constant:
      return 0;
    case Kind::add:
    case Kind::subtract:
    case Kind::multiply:
    case Kind::angle:
    case Kind::less:
      return 2;
    case Kind::choose:
    case Kind::multiply_add:
    case Kind::multiply_take:
    case Kind::take_product:
      return 3;
    case Kind::sum_of_products:
    case Kind::difference:
      return 4;
    default:
      return 1;
  }
}

/// Whether the derivative of a step flows to one of its operands.
bool flows(Kind kind, int operand) {
  if (kind == Kind::plain || kind == Kind::less) return false;
  return kind != Kind::choose || operand > 0;
}

class Planner {
 public:
  Planner(const Formula& formula, std::uint64_t results) : all_(formula.operations()), uses_(all_.size(), 0) {
    const bool whole = formula.results() > 64;
    for (int i = 0; i < formula.results(); ++i)
      if (whole || (results & result_bit(i)) != 0) wanted_.push_back(formula.result_at(i));
    for (const int r : wanted_) ++uses_[at(r)];
    for (std::size_t i = all_.size(); i-- > 0;) {
      const Operation& o = all_[i];
      if (uses_[i] == 0) continue;
      const std::array<int, 3> in{o.a, o.b, o.c};
      for (int k = 0; k < operands(o.kind); ++k) ++uses_[at(in[at(k)])];
    }
    plan_.zero = static_cast<int>(all_.size());
    plan_.nowhere = plan_.zero + 1;
  }

  Plan plan() {
    plan_forwards();
    plan_backwards();
    return std::move(plan_);
  }

 private:
  /// Whether an operation is a product that nothing but one other operation needs.
  bool joins(int i) const { return all_[at(i)].kind == Kind::multiply && uses_[at(i)] == 1; }

  Step sum(const Operation& o) const {
    const bool adds = o.kind == Kind::add, a = joins(o.a), b = joins(o.b);
    const auto factors = [&](int product) { return std::pair(all_[at(product)].a, all_[at(product)].b); };
    Step step;
    if (a && b) {
      const auto [p, q] = factors(o.a);
      const auto [r, s] = factors(o.b);
      step.kind = adds ? Kind::sum_of_products : Kind::difference;
      step.in = {p, q, r, s};
    } else if (a) {
      const auto [p, q] = factors(o.a);
      step.kind = adds ? Kind::multiply_add : Kind::multiply_take;
      step.in = {p, q, o.b};
    } else if (b) {
      const auto [p, q] = factors(o.b);
      step.kind = adds ? Kind::multiply_add : Kind::take_product;
      step.in = {p, q, o.a};
    } else {
      step.kind = adds ? Kind::add : Kind::subtract;
      step.in = {o.a, o.b};
    }
    return step;
  }

  void plan_forwards() {
    std::vector<bool> joined(all_.size(), false);
    const auto is_sum = [&](std::size_t i) {
      return uses_[i] > 0 && (all_[i].kind == Kind::add || all_[i].kind == Kind::subtract);
    };
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (is_sum(i))
        for (const int operand : {all_[i].a, all_[i].b})
          if (joins(operand)) joined[at(operand)] = true;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      const Operation& o = all_[i];
      if (uses_[i] == 0 || joined[i] || o.kind == Kind::input || o.kind == Kind::constant) continue;
      Step step = is_sum(i) ? sum(o) : Step{o.kind, 0, {o.a, o.b, o.c}};
      step.out = static_cast<int>(i);
      step.constant = o.constant;
      plan_.forwards.push_back(step);
    }
  }

  void plan_backwards() {
    std::vector<bool> reached(all_.size(), false);
    for (const int r : wanted_) reached[at(r)] = true;
    plan_.cleared = wanted_;
    for (auto step = plan_.forwards.rbegin(); step != plan_.forwards.rend(); ++step) {
      if (!reached[at(step->out)] || !all_[at(step->out)].moves) continue;
      BackStep back{*step, {}, {}};
      bool any = false;
      for (int k = 0; k < operands(step->kind); ++k) {
        const int to = step->in[at(k)];
        const bool goes = flows(step->kind, k) && all_[at(to)].moves;
        back.to[at(k)] = goes ? to : plan_.nowhere;
        back.before[at(k)] = goes && reached[at(to)] ? to : plan_.zero;
        if (goes) reached[at(to)] = any = true;
      }
      if (any) plan_.backwards.push_back(back);
    }
    for (std::size_t i = 0; i < all_.size(); ++i)
      if (all_[i].kind == Kind::input && !reached[i]) plan_.cleared.push_back(static_cast<int>(i));
  }

  const std::vector<Operation>& all_;
  std::vector<int> uses_;    ///< by operations that are needed, and as a result
  std::vector<int> wanted_;  ///< operations that give the results
  Plan plan_;
};

}  // namespace

Plan make_plan(const Formula& formula, std::uint64_t results) {
  return Planner(formula, results).plan();
}

}  // namespace trammel::math
