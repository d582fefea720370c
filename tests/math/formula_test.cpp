// A computation noted as a formula: its values against plain numbers, its derivatives against another library's.
#include "math/formula.hpp"

#include <ceres/jet.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <random>
#include <string>

#include "math/formula_run.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using test::within;

namespace {

constexpr int width = 8;
using Pack = math::Pack<width>;
using Jet = ceres::Jet<double, 2>;
using math::Symbol;

struct Rule {
  std::string name;
  std::function<Symbol(Symbol, Symbol)> symbol;
  std::function<Jet(Jet, Jet)> jet;
};

Rule rule(const std::string& name, auto formula) {
  return {name, formula, formula};
}

// The functions of both number types, found by the argument's type.
using math::abs;
using math::atan2;
using math::log;
using math::pow;
using math::sqrt;

std::vector<Rule> rules() {
  return {
      rule("x + y", [](auto x, auto y) { return x + y; }),
      rule("x − y", [](auto x, auto y) { return x - y; }),
      rule("x · y", [](auto x, auto y) { return x * y; }),
      rule("x / y", [](auto x, auto y) { return x / y; }),
      rule("x / 2 + 3·y − 1", [](auto x, auto y) { return x / 2.0 + 3.0 * y - 1.0; }),
      rule("2 / y − x", [](auto x, auto y) { return 2.0 / y - x; }),
      rule("−x · x", [](auto x, auto y) { return -x * x + y * 0.0; }),
      rule("√(x² + y²)", [](auto x, auto y) { return sqrt(x * x + y * y); }),
      rule("atan2(x, y)", [](auto x, auto y) { return atan2(x, y); }),
      rule("|x| to the power of 1.3", [](auto x, auto y) { return pow(abs(x), 1.3) + y; }),
      rule("log |y| · x", [](auto x, auto y) { return log(abs(y)) * x; }),
      rule("|x| · y", [](auto x, auto y) { return abs(x) * y; }),
      rule("a number used in many places",
           [](auto x, auto y) {
             const auto a = x * y, b = a + a * a, c = b * x - a;
             return (c + b) * (c - a) / (b * b + 1.0);
           }),
  };
}

}  // namespace

TEST_CASE("values and derivatives of a formula, lane by lane") {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> number(0.2, 3.0);
  for (const Rule& r : rules()) {
    INFO(r.name);
    math::Formula formula;
    const Symbol x = formula.input(true), y = formula.input(true);
    formula.result(r.symbol(x, y));
    formula.finish();
    math::FormulaRun<width> run(formula);
    for (int trial = 0; trial < 20; ++trial) {
      Pack a, b;
      for (std::size_t i = 0; i < width; ++i) {
        math::set_lane(a, i, (i % 2 == 0 ? 1.0 : -1.0) * number(random));
        math::set_lane(b, i, (i % 3 == 0 ? -1.0 : 1.0) * number(random));
      }
      run.set(0, a);
      run.set(1, b);
      run.forwards();
      run.still();
      for (std::size_t i = 0; i < width; ++i) run.seed(0, i, 1.0);
      run.backwards();
      for (std::size_t i = 0; i < width; ++i) {
        const Jet expected = r.jet(Jet(math::lane(a, i), 0), Jet(math::lane(b, i), 1));
        CHECK(math::lane(run.result(0), i) == within(expected.a, 1e-14 * (1.0 + std::abs(expected.a))));
        CHECK(math::lane(run.adjoint(0), i) == within(expected.v[0], 1e-13 * (1.0 + std::abs(expected.v[0]))));
        CHECK(math::lane(run.adjoint(1), i) == within(expected.v[1], 1e-13 * (1.0 + std::abs(expected.v[1]))));
      }
    }
  }
}

TEST_CASE("several results, seeded in lanes of their own") {
  math::Formula formula;
  const Symbol x = formula.input(true), y = formula.input(true);
  formula.result(x * y);
  formula.result(x + x);
  formula.finish();
  math::FormulaRun<width> run(formula);
  run.set(0, Pack(3.0));
  run.set(1, Pack(5.0));
  run.forwards();
  for (int again = 0; again < 2; ++again) {  // nothing is left from the run before
    run.still();
    run.seed(0, 1, 2.0);
    run.seed(1, 2, 7.0);
    run.backwards();
    const auto lanes = [&](int input) {
      std::vector<double> all;
      for (std::size_t i = 0; i < 4; ++i) all.push_back(math::lane(run.adjoint(input), i));
      return all;
    };
    CHECK(lanes(0) == std::vector<double>{0.0, 10.0, 14.0, 0.0});
    CHECK(lanes(1) == std::vector<double>{0.0, 6.0, 0.0, 0.0});
  }
}

TEST_CASE("what is not needed, not variable or already noted costs nothing") {
  math::Formula formula;
  const Symbol x = formula.input(true), still = formula.input(false);
  const Symbol twice = x * still + x * still;
  const Symbol unused = sqrt(x * 17.0);
  formula.result(twice * Symbol(1.0) + Symbol(0.0));
  formula.finish();
  CHECK(unused.entry(formula) >= 0);
  CHECK(formula.operations().size() == 4);  // two inputs, one product, one sum

  math::FormulaRun<width> run(formula);
  run.set(0, Pack(2.0));
  run.set(1, Pack(3.0));
  run.forwards();
  run.still();
  run.seed(0, 0, 1.0);
  run.backwards();
  CHECK(math::lane(run.result(0), 0) == 12.0);
  CHECK(math::lane(run.adjoint(0), 0) == 6.0);
  CHECK(math::lane(run.adjoint(1), 0) == 0.0);
}

TEST_CASE("sums take their products along, and a run for some results does only what they need") {
  math::Formula formula;
  const Symbol x = formula.input(true), y = formula.input(true), z = formula.input(true);
  const Symbol shared = x * z;
  formula.result(x * y + y * z);           // both products
  formula.result(x * y * z - shared * y);  // a product that more than one needs stands by itself
  formula.result(y - x * x);
  formula.result(sqrt(z) + shared);
  formula.finish();
  const auto actions = [&](std::uint64_t results) {
    std::vector<math::Formula::Kind> all;
    for (const math::Step& step : math::make_plan(formula, results).forwards) all.push_back(step.kind);
    return all;
  };
  using enum math::Formula::Kind;
  CHECK(actions(0b0001) == std::vector{sum_of_products});
  CHECK(actions(0b0100) == std::vector{take_product});
  CHECK(actions(0b1000) == std::vector{root, multiply_add});
  CHECK(actions(0b1010) == std::vector{multiply, multiply, difference, root, add});
  CHECK(actions(0).empty());

  math::FormulaRun<width> run(formula);
  const double a = 1.7, b = -0.4, c = 2.3;
  const double values[] = {a * b + b * c, a * b * c - a * c * b, b - a * a, std::sqrt(c) + a * c};
  const double slopes[][3] = {{b, a + c, b}, {0.0, 0.0, 0.0}, {-2.0 * a, 1.0, 0.0}, {c, 0.0, 0.5 / std::sqrt(c) + a}};
  for (int round = 0; round < 2; ++round)  // plans are kept, and nothing of a run before is left
    for (std::uint64_t results = 1; results < 16; ++results) {
      run.want(results);
      run.set(0, Pack(a));
      run.set(1, Pack(b));
      run.set(2, Pack(c));
      run.forwards();
      run.still();
      double expected[3] = {0.0, 0.0, 0.0};
      for (int r = 0; r < 4; ++r) {
        if ((results & math::result_bit(r)) == 0) continue;
        CHECK(math::lane(run.result(r), 3) == within(values[r], 1e-15));
        run.seed(r, 3, r + 1.0);
        for (int i = 0; i < 3; ++i) expected[i] += (r + 1.0) * slopes[r][i];
      }
      run.backwards();
      for (int i = 0; i < 3; ++i) {
        CHECK(math::lane(run.adjoint(i), 3) == within(expected[i], 1e-14));
        CHECK(math::lane(run.adjoint(i), 2) == 0.0);
      }
    }
}

TEST_CASE("a value without its derivative, and a root of nothing") {
  math::Formula formula;
  const Symbol x = formula.input(true);
  formula.result(x * value(x));
  formula.result(sqrt(x));
  formula.finish();
  math::FormulaRun<width> run(formula);
  Pack a(3.0);
  math::set_lane(a, 1, 0.0);
  run.set(0, a);
  run.forwards();
  run.still();
  run.seed(0, 0, 1.0);
  run.seed(1, 1, 1.0);
  run.backwards();
  CHECK(math::lane(run.result(0), 0) == 9.0);
  CHECK(math::lane(run.adjoint(0), 0) == 3.0);
  CHECK(math::lane(run.adjoint(0), 1) == 0.0);
}
