#include "math/formula_ahead.hpp"

namespace trammel::math {
namespace {

using Kind = Formula::Kind;

constexpr int none = -1;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class Ahead {
 public:
  Ahead(const Formula& whole, const std::vector<int>& known, Formula& before, Takes order)
      : whole_(whole),
        known_(known),
        before_(before),
        order_(order),
        late_(whole.operations().size(), false),
        read_(late_.size(), false),
        entry_(late_.size(), none) {
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Formula::Operation& o = whole.operations()[i];
      late_[i] = o.kind == Kind::input && at(o.a) >= known.size();
      Formula::each_operand(o, [&](int operand) { late_[i] = late_[i] || late_[at(operand)]; });
      if (late_[i]) Formula::each_operand(o, [&](int operand) { read_[at(operand)] = true; });
    }
    // A comparison is no number that could be handed on: the rest compares again.
    for (std::size_t i = 0; i < late_.size(); ++i)
      if (again(i)) Formula::each_operand(whole.operations()[i], [&](int operand) { read_[at(operand)] = true; });
    for (int r = 0; r < whole.results(); ++r) read_[at(whole.result_at(r))] = true;
  }

  Rest operator()() {
    Rest rest;
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Formula::Operation& o = whole_.operations()[i];
      if (late_[i] || o.kind == Kind::constant) continue;
      entry_[i] = o.kind == Kind::input ? known_[at(o.a)] : noted(before_, o);
    }
    // From here on entries are those of the rest.
    const auto input = [&](std::size_t i) { entry_[i] = rest.formula.input(false).entry(rest.formula); };
    const auto other_inputs = [&] {
      for (std::size_t i = 0; i < late_.size(); ++i)
        if (late_[i] && whole_.operations()[i].kind == Kind::input) input(i);
    };
    if (order_ == Takes::last) other_inputs();
    for (std::size_t i = 0; i < late_.size(); ++i) {
      if (late_[i] || entry_[i] == none || !read_[i] || again(i)) continue;
      rest.takes.push_back(result_of(entry_[i]));
      input(i);
    }
    if (order_ == Takes::first) other_inputs();
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Formula::Operation& o = whole_.operations()[i];
      if (o.kind != Kind::input && (late_[i] || again(i))) entry_[i] = noted(rest.formula, o);
    }
    for (int r = 0; r < whole_.results(); ++r) {
      const int i = whole_.result_at(r);
      rest.formula.result(Symbol(&rest.formula, entry(rest.formula, i)));
    }
    rest.formula.finish();
    return rest;
  }

 private:
  bool again(std::size_t i) const { return !late_[i] && read_[i] && whole_.operations()[i].kind == Kind::less; }

  /// Where an operation of the whole stands in a formula that has it already.
  int entry(Formula& in, int i) const {
    const Formula::Operation& o = whole_.operations()[at(i)];
    return o.kind == Kind::constant ? in.constant(o.constant) : entry_[at(i)];
  }
  int noted(Formula& in, const Formula::Operation& o) const {
    return in.copy(o, [&](int operand) { return entry(in, operand); });
  }
  /// The number of a result of what comes before; a new one where there is none or all are to be new.
  int result_of(int entry) {
    for (int r = 0; order_ == Takes::first && r < before_.results(); ++r)
      if (before_.result_at(r) == entry) return r;
    return before_.result(Symbol(&before_, entry));
  }

  const Formula& whole_;
  const std::vector<int>& known_;
  Formula& before_;
  Takes order_;
  std::vector<bool> late_, read_;  ///< of each operation: waits for other inputs; is read by what does, or a result
  std::vector<int> entry_;         ///< where it now stands
};

}  // namespace

Rest work_ahead(const Formula& whole, const std::vector<int>& known, Formula& before, Takes order) {
  return Ahead(whole, known, before, order)();
}

}  // namespace trammel::math
