#include "tape/steps.hpp"

namespace trammel::tape {
namespace {

using Kind = Tape::Kind;
using Operation = Tape::Operation;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class Layout {
 public:
  explicit Layout(const Tape& tape)
      : tape_(tape), all_(tape.operations()), uses_(all_.size(), 0), slots_(all_.size(), 0) {
    for (const Operation& o : all_) {
      const std::array<int, 3> in{o.a, o.b, o.c};
      for (int k = 0; k < Tape::operands(o.kind); ++k) ++uses_[at(in[at(k)])];
    }
    for (int r = 0; r < tape.results(); ++r) ++uses_[at(tape.result_at(r))];
  }

  Steps steps() {
    Steps steps;
    steps.slots.end = at(tape_.inputs());
    std::vector<bool> joined(all_.size(), false);
    for (const Operation& o : all_)
      if (is_sum(o))
        for (const int operand : {o.a, o.b})
          if (joins(operand)) joined[at(operand)] = true;
    for (std::size_t i = 0; i < all_.size(); ++i) {
      const Operation& o = all_[i];
      if (joined[i]) continue;
      slots_[i] = o.kind == Kind::input ? o.a : static_cast<int>(steps.slots.end++);
      if (o.kind == Kind::constant) steps.slots.constants.emplace_back(slots_[i], o.constant);
      if (Tape::operands(o.kind) == 0) continue;
      Step step = is_sum(o) ? sum(o) : Step{o.kind, 0, {slot(o.a), slot(o.b), slot(o.c)}};
      step.out = slots_[i];
      step.constant = o.constant;
      steps.list.push_back(step);
    }
    for (int r = 0; r < tape_.results(); ++r) steps.slots.results.push_back(slot(tape_.result_at(r)));
    return steps;
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

  const Tape& tape_;
  const std::vector<Operation>& all_;
  std::vector<int> uses_;   ///< by operations, and as a result
  std::vector<int> slots_;  ///< where each operation's number stands
};

}  // namespace

Steps steps_of(const Tape& tape) {
  return Layout(tape).steps();
}

}  // namespace trammel::tape
