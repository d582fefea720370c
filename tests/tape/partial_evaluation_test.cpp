// Work done ahead: the two tapes after one another against the whole.
#include "tape/partial_evaluation.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "tape/executor.hpp"
#include "tests/support/same_bits.hpp"

using namespace trammel;
using math::Symbol;
using math::Tape;

namespace {

constexpr int width = 8;
using Pack = math::Pack<width>;

int divisions(const Tape& tape) {
  int n = 0;
  for (const Tape::Operation& o : tape.operations()) n += o.kind == Tape::Kind::divide ? 1 : 0;
  return n;
}

/// What comes before: the sum and the product of two inputs.
Tape sum_and_product() {
  Tape before;
  const Symbol x = before.input(false), y = before.input(false);
  before.result(x + y);
  before.result(x * y);
  return before;
}

/// Goes on from sum s and product p to a place t.
Tape whole() {
  Tape tape;
  const Symbol s = tape.input(false), p = tape.input(false), t = tape.input(false);
  const Symbol once = s / p;  // follows from what is known
  const Symbol twice = select(s < p, once + 2.0, once * Symbol(3.0));
  tape.result(twice * t / (s + t));
  tape.result(select(s < p, t, once));  // a late choice by an early comparison
  tape.result(once);                    // a result that waits for nothing
  tape.result(Symbol(7.0));
  tape.result(t);
  tape.finish();
  return tape;
}

}  // namespace

TEST_CASE("work done ahead leaves the digits of the whole, and a division less for the rest") {
  const Tape one_piece = whole();
  Tape before = sum_and_product();
  const tape::Residual rest = tape::partially_evaluate(one_piece, before.result_operations(), before);
  before.finish();
  CHECK(divisions(one_piece) == 2);
  CHECK(divisions(before) == 1);
  CHECK(divisions(rest.tape) == 1);
  CHECK(rest.tape.inputs() == static_cast<int>(rest.takes.size()) + 1);

  tape::Executor<width> first{tape::CompiledTape(before)}, then{tape::CompiledTape(rest.tape)},
      at_once{tape::CompiledTape(one_piece)};
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> number(-2.0, 2.0);
  const auto any = [&] {
    Pack x;
    for (std::size_t lane = 0; lane < width; ++lane) math::set_lane(x, lane, number(random));
    return x;
  };
  for (int layout = 0; layout < 50; ++layout) {
    first.input(0) = any();
    first.input(1) = any();
    first.run();
    for (int i = 0; i < 2; ++i) at_once.input(i) = first.result(i);
    int next = 0;
    for (const int result : rest.takes) then.input(next++) = first.result(result);
    for (int place = 0; place < 3; ++place) {
      at_once.input(2) = then.input(next) = any();
      at_once.run();
      then.run();
      for (int r = 0; r < one_piece.results(); ++r) CHECK(test::same_bits(then.result(r), at_once.result(r)));
    }
  }
}

TEST_CASE("what the tape before has computed already is not computed again") {
  Tape before = sum_and_product();
  Tape tape;
  const Symbol x = tape.input(false), y = tape.input(false), t = tape.input(false);
  tape.result(x * y + t);
  tape.finish();
  const tape::Residual rest = tape::partially_evaluate(tape, before.input_operations(), before);
  before.finish();
  CHECK(rest.takes == std::vector<int>{1});  // the product, a result as it is
  CHECK(before.results() == 2);
}
