#include "tape/adjoint.hpp"

#include <utility>

namespace trammel::tape {
namespace {

using math::Symbol;
using math::SymbolTruth;
using Kind = Tape::Kind;

class Adjoint {
 public:
  explicit Adjoint(const Tape& tape) : all_(tape.operations()), values_(all_.size()), flows_(all_.size()) {
    for (std::size_t i = 0; i < all_.size(); ++i) {
      values_[i] = copy(all_[i]);
      if (all_[i].kind == Kind::input) inputs_.push_back(i);
    }
  }

  Tape of(const Tape& tape) {
    for (int r = 0; r < tape.results(); ++r) {
      const Symbol weight = out_.input(false);
      const std::size_t from = at(tape.result_at(r));
      if (all_[from].moves) flows_[from] += weight;
    }
    for (std::size_t i = all_.size(); i-- > 0;)
      if (all_[i].moves && !(flows_[i].known() && flows_[i].constant() == 0.0)) flow(all_[i], values_[i], flows_[i]);
    for (const std::size_t i : inputs_) out_.result(flows_[i]);
    out_.finish();
    return std::move(out_);
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }

  Symbol copy(const Tape::Operation& o) {
    if (o.kind == Kind::input) return out_.input(false);
    if (o.kind == Kind::constant) return {o.constant};
    return {&out_, out_.copy(o, [&](int operand) { return values_[at(operand)].entry(out_); })};
  }

  void give(int to, const Symbol& share) {
    if (all_[at(to)].moves) flows_[at(to)] += share;
  }
  void take(int from, const Symbol& share) {
    if (all_[at(from)].moves) flows_[at(from)] -= share;
  }

  /// Chain rule of one operation: w, what has flowed to what it gives, goes on to its operands.
  void flow(const Tape::Operation& o, const Symbol& value, const Symbol& w) {
    const Symbol &a = values_[at(o.a)], &b = values_[at(o.b)];
    switch (o.kind) {
      case Kind::add:
        give(o.a, w);
        give(o.b, w);
        break;
      case Kind::subtract:
        give(o.a, w);
        take(o.b, w);
        break;
      case Kind::multiply:
        give(o.a, w * b);
        give(o.b, w * a);
        break;
      case Kind::divide:
        if (all_[at(o.a)].moves) {
          const Symbol share = w * (Symbol(1.0) / b);  // the quotient may be known before w is
          give(o.a, share);
          take(o.b, share * value);
        } else if (a.known() && a.constant() == 1.0) {
          take(o.b, w * value * value);
        } else {
          take(o.b, w * value / b);
        }
        break;
      case Kind::negate:
        take(o.a, w);
        break;
      case Kind::root: {
        // The callers clamp a radicand before it comes to nothing, and past that the root does not move.
        const auto rises = value > Symbol(0.0);
        give(o.a, w * select(rises, Symbol(0.5) / select(rises, value, Symbol(1.0)), Symbol(0.0)));
        break;
      }
      case Kind::angle: {
        const Symbol squared = a * a + b * b;
        const auto somewhere = squared > Symbol(0.0);
        const Symbol share = select(somewhere, w / select(somewhere, squared, Symbol(1.0)), Symbol(0.0));
        give(o.a, share * b);
        take(o.b, share * a);
        break;
      }
      case Kind::unit_angle:
        give(o.a, w * b);
        take(o.b, w * a);
        break;
      case Kind::power:
        give(o.a, w * Symbol(o.constant) * value / a);
        break;
      case Kind::logarithm:
        give(o.a, w / a);
        break;
      case Kind::choose:
        give(o.b, select(SymbolTruth(&out_, a.entry(out_)), w, Symbol(0.0)));
        give(o.c, select(SymbolTruth(&out_, a.entry(out_)), Symbol(0.0), w));
        break;
      default:  // flows no further
        break;
    }
  }

  const std::vector<Tape::Operation>& all_;
  Tape out_;
  std::vector<Symbol> values_, flows_;  ///< of each operation, in the new tape
  std::vector<std::size_t> inputs_;
};

}  // namespace

Tape adjoint(const Tape& tape) {
  return Adjoint(tape).of(tape);
}

}  // namespace trammel::tape
