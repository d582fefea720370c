// A computation written down once as a list of operations, to be run over and over (tape/executor.hpp), or to be made
// into another one: that of its derivatives (tape/adjoint.hpp).
//
// `Symbol` is a number type like the others: given to the kernel's templates in place of a number, it notes what they
// do. Nothing there branches on data, so that the list holds for every layout. Equal operations are noted once, those
// on constants not at all, and those that no result needs are dropped; what is left gives the digits that the template
// would, but for the sign of a zero, and but for 0 times what is not finite, which is taken as 0.
#pragma once

#include <cstdint>
#include <map>
#include <tuple>
#include <vector>

#include "math/number.hpp"

namespace trammel::math {

class Symbol;

class Tape {
 public:
  enum class Kind : std::uint8_t {
    input,
    constant,
    add,         ///< a + b
    subtract,    ///< a − b
    multiply,    ///< a · b
    divide,      ///< a / b
    negate,      ///< −a
    plain,       ///< a, its derivative dropped
    root,        ///< √a
    angle,       ///< of (x = b, y = a)
    unit_angle,  ///< the same of a unit vector
    power,       ///< a to the constant
    logarithm,   ///< of a
    less,        ///< 1 where a < b, else 0
    choose,      ///< b where a ≠ 0, else c

    // In plans only, which take products along with the sum that uses them.
    multiply_add,     ///< a · b + c
    multiply_take,    ///< a · b − c
    take_product,     ///< c − a · b
    sum_of_products,  ///< a · b + c · d
    difference,       ///< a · b − c · d
  };
  struct Operation {
    Kind kind = Kind::constant;
    int a = 0, b = 0, c = 0;  ///< numbers of earlier operations; of an input, its place among the inputs
    double constant = 0.0;
    bool moves = false;  ///< depends on an input whose derivative is wanted
  };

  /// The next input. Without `moves` nothing flows back to it.
  Symbol input(bool moves);
  int inputs() const { return inputs_; }

  /// Marks a number as wanted; they are counted from 0.
  int result(const Symbol& x);
  /// Drops what no result needs. To be called once, after the last result.
  void finish();

  const std::vector<Operation>& operations() const { return operations_; }
  /// The operation that gives result i.
  int result_at(int i) const { return results_[static_cast<std::size_t>(i)]; }
  int results() const { return static_cast<int>(results_.size()); }
  /// The operations that give the inputs, in their order, and the results.
  std::vector<int> input_operations() const;
  const std::vector<int>& result_operations() const { return results_; }

  /// Which inputs any operation or result reads.
  std::vector<bool> inputs_read() const;

  /// How many operands a kind has that may stand in a tape.
  static int operands(Kind kind);
  /// Calls take(operation) for each operand of an operation, in their order.
  template <class Take>
  static void each_operand(const Operation& o, Take take) {
    const int all[] = {o.a, o.b, o.c};
    for (int i = 0; i < operands(o.kind); ++i) take(all[i]);
  }
  int note(Kind kind, int a, int b, int c, double constant);
  /// Notes an operation of another tape; entry(operand) is where the operand stands in this one.
  template <class EntryOf>
  int copy(const Operation& o, EntryOf entry) {
    int now[3] = {0, 0, 0}, n = 0;
    each_operand(o, [&](int operand) { now[n++] = entry(operand); });
    return note(o.kind, now[0], now[1], now[2], o.constant);
  }
  int constant(double x) { return note(Kind::constant, 0, 0, 0, x); }

 private:
  int inputs_ = 0;
  std::vector<Operation> operations_;
  std::vector<int> results_;
  std::map<std::tuple<Kind, int, int, int, double>, int> noted_;
};

/// A comparison of symbols.
class SymbolTruth {
 public:
  explicit SymbolTruth(bool holds) : constant_(holds) {}
  SymbolTruth(Tape* tape, int entry) : tape_(tape), entry_(entry) {}

  bool known() const { return tape_ == nullptr; }
  bool holds() const { return constant_; }
  Tape* tape() const { return tape_; }
  int entry() const { return entry_; }

 private:
  Tape* tape_ = nullptr;
  int entry_ = 0;
  bool constant_ = false;
};

/// A number of a tape, or a constant.
class Symbol {
 public:
  Symbol() = default;
  Symbol(double x) : constant_(x) {}  // NOLINT(google-explicit-constructor): a constant is a number like any other
  Symbol(Tape* tape, int entry) : tape_(tape), entry_(entry) {}

  bool known() const { return tape_ == nullptr; }
  double constant() const { return constant_; }
  Tape* tape() const { return tape_; }
  /// Its operation, in a tape.
  int entry(Tape& in) const { return known() ? in.constant(constant_) : entry_; }

  Symbol operator-() const;
  Symbol& operator+=(const Symbol& o) { return *this = *this + o; }
  Symbol& operator-=(const Symbol& o) { return *this = *this - o; }
  Symbol& operator*=(const Symbol& o) { return *this = *this * o; }

  friend Symbol operator+(const Symbol& a, const Symbol& b);
  friend Symbol operator-(const Symbol& a, const Symbol& b);
  friend Symbol operator*(const Symbol& a, const Symbol& b);
  friend Symbol operator/(const Symbol& a, const Symbol& b);
  friend SymbolTruth operator<(const Symbol& a, const Symbol& b);
  friend SymbolTruth operator>(const Symbol& a, const Symbol& b) { return b < a; }

 private:
  Tape* tape_ = nullptr;
  int entry_ = 0;
  double constant_ = 0.0;
};

Symbol value(const Symbol& x);
Symbol sqrt(const Symbol& x);
Symbol atan2(const Symbol& y, const Symbol& x);
Symbol unit_angle(const Symbol& sine, const Symbol& cosine);
Symbol pow(const Symbol& x, double power);
Symbol log(const Symbol& x);
Symbol abs(const Symbol& x);
Symbol select(const SymbolTruth& condition, const Symbol& yes, const Symbol& no);

// Conditions are only joined and asked for to decide whether an iteration goes on. What is not known counts as not
// holding: a tape is run from where the equations hold, and takes one step.
inline SymbolTruth operator&(const SymbolTruth& a, const SymbolTruth& b) {
  if (a.known()) return a.holds() ? b : a;
  return b.known() && !b.holds() ? b : a;
}
inline SymbolTruth operator|(const SymbolTruth& a, const SymbolTruth& b) {
  if (a.known()) return a.holds() ? a : b;
  return b.known() && b.holds() ? b : a;
}
inline bool any(const SymbolTruth& x) {
  return x.known() && x.holds();
}

}  // namespace trammel::math
