// Work done ahead: the two formulas after one another against the whole.
#include "math/formula_ahead.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "math/formula_run.hpp"
#include "tests/support/same_bits.hpp"

using namespace trammel;
using math::Formula;
using math::Symbol;

namespace {

constexpr int width = 8;
using Pack = math::Pack<width>;

int divisions(const Formula& formula) {
  int n = 0;
  for (const Formula::Operation& o : formula.operations()) n += o.kind == Formula::Kind::divide ? 1 : 0;
  return n;
}

/// What comes before: the sum and the product of two inputs.
Formula sum_and_product() {
  Formula before;
  const Symbol x = before.input(false), y = before.input(false);
  before.result(x + y);
  before.result(x * y);
  return before;
}

/// Goes on from sum s and product p to a place t.
Formula whole() {
  Formula formula;
  const Symbol s = formula.input(false), p = formula.input(false), t = formula.input(false);
  const Symbol once = s / p;  // follows from what is known
  const Symbol twice = select(s < p, once + 2.0, once * Symbol(3.0));
  formula.result(twice * t / (s + t));
  formula.result(select(s < p, t, once));  // a late choice by an early comparison
  formula.result(once);                    // a result that waits for nothing
  formula.result(Symbol(7.0));
  formula.result(t);
  formula.finish();
  return formula;
}

}  // namespace

TEST_CASE("work done ahead leaves the digits of the whole, and a division less for the rest") {
  const Formula one_piece = whole();
  Formula before = sum_and_product();
  const math::Rest rest = math::work_ahead(one_piece, before.result_operations(), before);
  before.finish();
  CHECK(divisions(one_piece) == 2);
  CHECK(divisions(before) == 1);
  CHECK(divisions(rest.formula) == 1);
  CHECK(rest.formula.inputs() == static_cast<int>(rest.takes.size()) + 1);

  math::FormulaRun<width> first{math::FormulaProgram(before)}, then{math::FormulaProgram(rest.formula)},
      at_once{math::FormulaProgram(one_piece)};
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

TEST_CASE("what the formula before has computed already is not computed again") {
  Formula before = sum_and_product();
  Formula formula;
  const Symbol x = formula.input(false), y = formula.input(false), t = formula.input(false);
  formula.result(x * y + t);
  formula.finish();
  const math::Rest rest = math::work_ahead(formula, before.input_operations(), before);
  before.finish();
  CHECK(rest.takes == std::vector<int>{1});  // the product, a result as it is
  CHECK(before.results() == 2);
}
