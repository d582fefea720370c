#include "math/tape.hpp"

#include <optional>
#include <utility>

#include "math/trigonometry.hpp"

namespace trammel::math {
namespace {

using Kind = Tape::Kind;

bool is(const Symbol& x, double constant) {
  return x.known() && x.constant() == constant;
}

Tape* tape_of(const Symbol& a, const Symbol& b) {
  return a.known() ? b.tape() : a.tape();
}

Symbol noted(Tape& f, Kind kind, const Symbol& a) {
  return {&f, f.note(kind, a.entry(f), 0, 0, 0.0)};
}
Symbol noted(Tape& f, Kind kind, const Symbol& a, const Symbol& b) {
  int x = a.entry(f), y = b.entry(f);
  if ((kind == Kind::add || kind == Kind::multiply) && y < x) std::swap(x, y);
  return {&f, f.note(kind, x, y, 0, 0.0)};
}

/// What a number is the negative of, if it is noted as one.
std::optional<Symbol> opposite(const Symbol& x) {
  if (x.known()) return std::nullopt;
  const Tape::Operation& o = x.tape()->operations()[static_cast<std::size_t>(x.entry(*x.tape()))];
  if (o.kind != Kind::negate) return std::nullopt;
  return Symbol(x.tape(), o.a);
}

}  // namespace

Symbol Tape::input(bool moves) {
  const int entry = static_cast<int>(operations_.size());
  operations_.push_back({Kind::input, inputs_++, 0, 0, 0.0, moves});
  return {this, entry};
}

int Tape::operands(Kind kind) {
  switch (kind) {
    case Kind::input:
    case Kind::constant:
      return 0;
    case Kind::add:
    case Kind::subtract:
    case Kind::multiply:
    case Kind::divide:
    case Kind::angle:
    case Kind::unit_angle:
    case Kind::less:
      return 2;
    case Kind::choose:
      return 3;
    default:
      return 1;
  }
}

int Tape::note(Kind kind, int a, int b, int c, double constant) {
  const auto [found, fresh] = noted_.try_emplace({kind, a, b, c, constant}, static_cast<int>(operations_.size()));
  if (!fresh) return found->second;
  const auto moving = [&](int i) { return operations_[static_cast<std::size_t>(i)].moves; };
  bool moves = false;
  if (kind == Kind::choose)
    moves = moving(b) || moving(c);
  else if (kind != Kind::plain && kind != Kind::less)
    moves = (operands(kind) > 0 && moving(a)) || (operands(kind) > 1 && moving(b));
  operations_.push_back({kind, a, b, c, constant, moves});
  return found->second;
}

int Tape::result(const Symbol& x) {
  results_.push_back(x.entry(*this));
  return results() - 1;
}

std::vector<int> Tape::input_operations() const {
  std::vector<int> at;
  for (std::size_t i = 0; i < operations_.size(); ++i)
    if (operations_[i].kind == Kind::input) at.push_back(static_cast<int>(i));
  return at;
}

std::vector<bool> Tape::inputs_read() const {
  std::vector<bool> read(static_cast<std::size_t>(inputs_), false);
  const auto reads = [&](int i) {
    const Operation& o = operations_[static_cast<std::size_t>(i)];
    if (o.kind == Kind::input) read[static_cast<std::size_t>(o.a)] = true;
  };
  for (const Operation& o : operations_) each_operand(o, reads);
  for (const int r : results_) reads(r);
  return read;
}

void Tape::finish() {
  std::vector<bool> needed(operations_.size(), false);
  for (int r : results_) needed[static_cast<std::size_t>(r)] = true;
  const auto need = [&](int i) { needed[static_cast<std::size_t>(i)] = true; };
  for (std::size_t i = operations_.size(); i-- > 0;) {
    const Operation& o = operations_[i];
    if (o.kind == Kind::input) need(static_cast<int>(i));
    if (!needed[i] || o.kind == Kind::input || o.kind == Kind::constant) continue;
    need(o.a);
    need(o.b);
    need(o.c);
  }
  std::vector<Operation> kept;
  std::vector<int> now(operations_.size(), 0);
  for (std::size_t i = 0; i < operations_.size(); ++i) {
    if (!needed[i]) continue;
    Operation o = operations_[i];
    if (o.kind != Kind::input && o.kind != Kind::constant) {
      o.a = now[static_cast<std::size_t>(o.a)];
      o.b = now[static_cast<std::size_t>(o.b)];
      o.c = now[static_cast<std::size_t>(o.c)];
    }
    now[i] = static_cast<int>(kept.size());
    kept.push_back(o);
  }
  for (int& r : results_) r = now[static_cast<std::size_t>(r)];
  operations_ = std::move(kept);
  noted_.clear();
}

// A negative number is taken as far along as it goes: −a + b = b − a, −a · b = −(a · b), in the same digits.

Symbol Symbol::operator-() const {
  if (const auto a = opposite(*this)) return *a;
  return known() ? Symbol(-constant_) : noted(*tape_, Kind::negate, *this);
}
Symbol operator+(const Symbol& a, const Symbol& b) {
  if (a.known() && b.known()) return a.constant() + b.constant();
  if (is(a, 0.0)) return b;
  if (is(b, 0.0)) return a;
  if (const auto minus = opposite(b)) return a - *minus;
  if (const auto minus = opposite(a)) return b - *minus;
  return noted(*tape_of(a, b), Kind::add, a, b);
}
Symbol operator-(const Symbol& a, const Symbol& b) {
  if (a.known() && b.known()) return a.constant() - b.constant();
  if (is(a, 0.0)) return -b;
  if (is(b, 0.0)) return a;
  if (const auto minus = opposite(b)) return a + *minus;
  if (const auto minus = opposite(a)) return -(*minus + b);
  return noted(*tape_of(a, b), Kind::subtract, a, b);
}
Symbol operator*(const Symbol& a, const Symbol& b) {
  if (a.known() && b.known()) return a.constant() * b.constant();
  if (is(a, 0.0) || is(b, 0.0)) return 0.0;
  if (is(a, 1.0)) return b;
  if (is(b, 1.0)) return a;
  if (is(a, -1.0)) return -b;
  if (is(b, -1.0)) return -a;
  if (const auto minus = opposite(a)) return -(*minus * b);
  if (const auto minus = opposite(b)) return -(a * *minus);
  return noted(*tape_of(a, b), Kind::multiply, a, b);
}
Symbol operator/(const Symbol& a, const Symbol& b) {
  if (a.known() && b.known()) return a.constant() / b.constant();
  if (is(a, 0.0)) return 0.0;
  if (is(b, 1.0)) return a;
  if (const auto minus = opposite(a)) return -(*minus / b);
  if (const auto minus = opposite(b)) return -(a / *minus);
  return noted(*tape_of(a, b), Kind::divide, a, b);
}
SymbolTruth operator<(const Symbol& a, const Symbol& b) {
  if (a.known() && b.known()) return SymbolTruth(a.constant() < b.constant());
  Tape& f = *tape_of(a, b);
  return {&f, f.note(Kind::less, a.entry(f), b.entry(f), 0, 0.0)};
}

Symbol value(const Symbol& x) {
  return x.known() ? x : noted(*x.tape(), Kind::plain, x);
}
Symbol sqrt(const Symbol& x) {
  return x.known() ? Symbol(sqrt(x.constant())) : noted(*x.tape(), Kind::root, x);
}
Symbol atan2(const Symbol& y, const Symbol& x) {
  if (x.known() && y.known()) return atan2(y.constant(), x.constant());
  return noted(*tape_of(x, y), Kind::angle, y, x);
}
Symbol unit_angle(const Symbol& sine, const Symbol& cosine) {
  if (sine.known() && cosine.known()) return unit_angle(sine.constant(), cosine.constant());
  return noted(*tape_of(sine, cosine), Kind::unit_angle, sine, cosine);
}
Symbol pow(const Symbol& x, double power) {
  if (x.known()) return pow(x.constant(), power);
  Tape& f = *x.tape();
  return {&f, f.note(Kind::power, x.entry(f), 0, 0, power)};
}
Symbol log(const Symbol& x) {
  return x.known() ? Symbol(log(x.constant())) : noted(*x.tape(), Kind::logarithm, x);
}
Symbol abs(const Symbol& x) {
  return select(x < Symbol(0.0), -x, x);
}
Symbol select(const SymbolTruth& condition, const Symbol& yes, const Symbol& no) {
  if (condition.known()) return condition.holds() ? yes : no;
  Tape& f = *condition.tape();
  const int b = yes.entry(f), c = no.entry(f);
  if (b == c) return yes;
  return {&f, f.note(Kind::choose, condition.entry(), b, c, 0.0)};
}

}  // namespace trammel::math
