#include "tape/partial_evaluation.hpp"

namespace trammel::tape {
namespace {

using math::Symbol;
using Kind = Tape::Kind;

constexpr int none = -1;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class PartialEvaluation {
 public:
  PartialEvaluation(const Tape& whole, const std::vector<int>& known, Tape& before, KnownInputs order)
      : whole_(whole),
        known_(known),
        before_(before),
        order_(order),
        late_(whole.operations().size(), false),
        read_(late_.size(), false),
        entry_(late_.size(), none) {
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Tape::Operation& o = whole.operations()[i];
      late_[i] = o.kind == Kind::input && at(o.a) >= known.size();
      Tape::each_operand(o, [&](int operand) { late_[i] = late_[i] || late_[at(operand)]; });
      if (late_[i]) Tape::each_operand(o, [&](int operand) { read_[at(operand)] = true; });
    }
    // A comparison is no number that could be handed on: the rest compares again.
    for (std::size_t i = 0; i < late_.size(); ++i)
      if (again(i)) Tape::each_operand(whole.operations()[i], [&](int operand) { read_[at(operand)] = true; });
    for (int r = 0; r < whole.results(); ++r) read_[at(whole.result_at(r))] = true;
  }

  Residual operator()() {
    Residual rest;
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Tape::Operation& o = whole_.operations()[i];
      if (late_[i] || o.kind == Kind::constant) continue;
      entry_[i] = o.kind == Kind::input ? known_[at(o.a)] : noted(before_, o);
    }
    // From here on entries are those of the rest.
    const auto input = [&](std::size_t i) { entry_[i] = rest.tape.input(false).entry(rest.tape); };
    const auto other_inputs = [&] {
      for (std::size_t i = 0; i < late_.size(); ++i)
        if (late_[i] && whole_.operations()[i].kind == Kind::input) input(i);
    };
    if (order_ == KnownInputs::last) other_inputs();
    for (std::size_t i = 0; i < late_.size(); ++i) {
      if (late_[i] || entry_[i] == none || !read_[i] || again(i)) continue;
      rest.takes.push_back(result_of(entry_[i]));
      input(i);
    }
    if (order_ == KnownInputs::first) other_inputs();
    for (std::size_t i = 0; i < late_.size(); ++i) {
      const Tape::Operation& o = whole_.operations()[i];
      if (o.kind != Kind::input && (late_[i] || again(i))) entry_[i] = noted(rest.tape, o);
    }
    for (int r = 0; r < whole_.results(); ++r) {
      const int i = whole_.result_at(r);
      rest.tape.result(Symbol(&rest.tape, entry(rest.tape, i)));
    }
    rest.tape.finish();
    return rest;
  }

 private:
  bool again(std::size_t i) const { return !late_[i] && read_[i] && whole_.operations()[i].kind == Kind::less; }

  /// Where an operation of the whole stands in a tape that has it already.
  int entry(Tape& in, int i) const {
    const Tape::Operation& o = whole_.operations()[at(i)];
    return o.kind == Kind::constant ? in.constant(o.constant) : entry_[at(i)];
  }
  int noted(Tape& in, const Tape::Operation& o) const {
    return in.copy(o, [&](int operand) { return entry(in, operand); });
  }
  /// The number of a result of what comes before; a new one where there is none or all are to be new.
  int result_of(int entry) {
    for (int r = 0; order_ == KnownInputs::first && r < before_.results(); ++r)
      if (before_.result_at(r) == entry) return r;
    return before_.result(Symbol(&before_, entry));
  }

  const Tape& whole_;
  const std::vector<int>& known_;
  Tape& before_;
  KnownInputs order_;
  std::vector<bool> late_, read_;  ///< of each operation: waits for other inputs; is read by what does, or a result
  std::vector<int> entry_;         ///< where it now stands
};

}  // namespace

Residual partially_evaluate(const Tape& whole, const std::vector<int>& known, Tape& before, KnownInputs order) {
  return PartialEvaluation(whole, known, before, order)();
}

}  // namespace trammel::tape
