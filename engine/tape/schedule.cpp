#include "tape/schedule.hpp"

#include <algorithm>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "math/trigonometry.hpp"

namespace trammel::tape {
namespace {

using math::Symbol;
using Kind = Tape::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Gives the angle of a unit vector by `unit_angle_of(sine, cosine)`.
template <class UnitAngleOf>
Tape lowered_with(const Tape& tape, UnitAngleOf unit_angle_of) {
  Tape out;
  std::vector<Symbol> now;
  for (const Tape::Operation& o : tape.operations()) {
    const auto number = [&](int i) -> const Symbol& { return now[at(i)]; };
    switch (o.kind) {
      case Kind::input:
        now.push_back(out.input(false));
        break;
      case Kind::constant:
        now.emplace_back(o.constant);
        break;
      case Kind::plain:
        now.push_back(number(o.a));
        break;
      case Kind::angle:
        now.push_back(angle_of(number(o.a), number(o.b)));
        break;
      case Kind::unit_angle:
        now.push_back(unit_angle_of(number(o.a), number(o.b)));
        break;
      default:
        now.emplace_back(&out, out.copy(o, [&](int i) { return number(i).entry(out); }));
    }
  }
  for (int r = 0; r < tape.results(); ++r) out.result(now[at(tape.result_at(r))]);
  return out;
}

/// Cycles until a instruction's number is there, roughly, on processors of the last years.
int latency(MachineOp::Kind kind) {
  switch (kind) {
    case MachineOp::Kind::divide:
      return 14;
    case MachineOp::Kind::root:
      return 20;
    case MachineOp::Kind::blend:
      return 6;
    case MachineOp::Kind::greater:
    case MachineOp::Kind::lesser:
    case MachineOp::Kind::negate:
      return 2;
    default:
      return 4;
  }
}

class Order {
 public:
  Order(std::vector<Instruction> instructions, std::size_t numbers, int registers)
      : instructions_(std::move(instructions)),
        registers_(registers),
        maker_(numbers, none),
        to_read_(numbers, 0),
        way_(instructions_.size(), 0),
        there_(instructions_.size(), 0),
        waits_for_(instructions_.size(), 0),
        readers_(instructions_.size()) {
    for (std::size_t d = 0; d < instructions_.size(); ++d) maker_[at(instructions_[d].out)] = static_cast<int>(d);
    for (std::size_t d = 0; d < instructions_.size(); ++d)
      for (const int i : instructions_[d].in) {
        if (maker_[at(i)] == none) continue;
        readers_[at(maker_[at(i)])].push_back(static_cast<int>(d));
        ++to_read_[at(i)];
        ++waits_for_[d];
      }
    for (std::size_t d = instructions_.size(); d-- > 0;) {
      for (const int r : readers_[d]) way_[d] = std::max(way_[d], way_[at(r)]);
      way_[d] += latency(instructions_[d].kind);
    }
  }

  std::vector<Instruction> take() {
    std::vector<int> ready;
    for (std::size_t d = 0; d < instructions_.size(); ++d)
      if (waits_for_[d] == 0) ready.push_back(static_cast<int>(d));
    std::vector<Instruction> out;
    int held = 0;
    for (int step = 0; !ready.empty(); ++step) {  // two a cycle
      const int now = step / 2;
      const bool scarce = held >= registers_;
      const auto rank = [&](int d) {
        return std::tuple(scarce && gain(d) > 0, std::max(now, there_[at(d)]), -way_[at(d)], d);
      };
      const auto best = std::min_element(ready.begin(), ready.end(), [&](int a, int b) { return rank(a) < rank(b); });
      const int d = *best, start = std::max(now, there_[at(d)]);
      ready.erase(best);
      step = std::max(step, 2 * start);
      held += gain(d);
      for (const int i : instructions_[at(d)].in)
        if (maker_[at(i)] != none) --to_read_[at(i)];
      for (const int r : readers_[at(d)]) {
        there_[at(r)] = std::max(there_[at(r)], start + latency(instructions_[at(d)].kind));
        if (--waits_for_[at(r)] == 0) ready.push_back(r);
      }
      out.push_back(std::move(instructions_[at(d)]));
    }
    return out;
  }

 private:
  static constexpr int none = -1;

  /// How many more registers are held after a instruction.
  int gain(int d) const {
    const Instruction& instruction = instructions_[at(d)];
    int more = readers_[at(d)].empty() ? 0 : 1;
    for (std::size_t k = 0; k < instruction.in.size(); ++k) {
      const int i = instruction.in[k];
      const auto same = std::count(instruction.in.begin(), instruction.in.end(), i);
      const bool first = std::find(instruction.in.begin(), instruction.in.end(), i) ==
                         instruction.in.begin() + static_cast<std::ptrdiff_t>(k);
      if (first && maker_[at(i)] != none && to_read_[at(i)] == same) --more;
    }
    return more;
  }

  std::vector<Instruction> instructions_;
  int registers_;
  std::vector<int> maker_,
      to_read_;  ///< of each number: the instruction that makes it, how often it is still to be read
  std::vector<int> way_, there_, waits_for_;  ///< of each instruction: cycles to the end, when its operands are there,
                                              ///< how many of them are not made yet
  std::vector<std::vector<int>> readers_;     ///< of each instruction, those that read what it makes
};

}  // namespace

Tape lowered(const Tape& tape) {
  Tape out = lowered_with(tape, [](const Symbol& sine, const Symbol& cosine) { return angle_of_unit(sine, cosine); });
  out.finish();
  return out;
}

std::optional<Tape> lowered_for_small_angles(const Tape& tape) {
  std::optional<Symbol> least;
  Tape out = lowered_with(tape, [&](const Symbol& sine, const Symbol& cosine) {
    least = least ? min(*least, cosine) : cosine;
    return quick_angle_of_unit(sine, cosine);
  });
  if (!least) return std::nullopt;
  // The symbol was noted in a tape that has moved since.
  out.result(least->known() ? *least : Symbol(&out, least->entry(out)));
  out.finish();
  return out;
}

std::vector<Instruction> instructions_of(const Tape& tape) {
  const std::vector<Tape::Operation>& all = tape.operations();
  std::vector<Instruction> instructions;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Tape::Operation& o = all[i];
    const auto instruction = [&](MachineOp::Kind kind, std::vector<int> in) {
      instructions.push_back({kind, static_cast<int>(i), std::move(in), o.constant});
    };
    switch (o.kind) {
      case Kind::add:
        instruction(MachineOp::Kind::add, {o.a, o.b});
        break;
      case Kind::subtract:
        instruction(MachineOp::Kind::subtract, {o.a, o.b});
        break;
      case Kind::multiply:
        instruction(MachineOp::Kind::multiply, {o.a, o.b});
        break;
      case Kind::divide:
        instruction(MachineOp::Kind::divide, {o.a, o.b});
        break;
      case Kind::negate:
        instruction(MachineOp::Kind::negate, {o.a});
        break;
      case Kind::root:
        instruction(MachineOp::Kind::root, {o.a});
        break;
      case Kind::power:
        instruction(MachineOp::Kind::power, {o.a});
        break;
      case Kind::logarithm:
        instruction(MachineOp::Kind::logarithm, {o.a});
        break;
      case Kind::choose: {
        const Tape::Operation& less = all[at(o.a)];
        if (less.kind != Kind::less) throw std::logic_error("a choice without a comparison");
        if (o.b == less.b && o.c == less.a)
          instruction(MachineOp::Kind::greater, {less.b, less.a});
        else if (o.b == less.a && o.c == less.b)
          instruction(MachineOp::Kind::lesser, {less.a, less.b});
        else
          instruction(MachineOp::Kind::blend, {less.a, less.b, o.c, o.b}), instructions.back().condition = o.a;
        break;
      }
      case Kind::input:
      case Kind::constant:
      case Kind::less:
        break;
      default:
        throw std::logic_error("not an operation of a tape that is written out");
    }
  }
  return instructions;
}

std::vector<Instruction> scheduled(std::vector<Instruction> instructions, std::size_t numbers, int registers) {
  return Order(std::move(instructions), numbers, registers).take();
}

}  // namespace trammel::tape
