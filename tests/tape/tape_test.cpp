// A computation noted as a tape: its values against plain numbers, its derivatives against another library's.
#include "math/tape.hpp"

#include <ceres/jet.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "tape/adjoint.hpp"
#include "tape/adjoint_executor.hpp"
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

Rule rule(const std::string& name, auto tape) {
  return {name, tape, tape};
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

/// A tape and its derivatives.
struct BothWays {
  explicit BothWays(const math::Tape& tape) : values(tape), derivatives(tape::adjoint(tape)) {}

  tape::CompiledTape values, derivatives;
};

}  // namespace

TEST_CASE("values and derivatives of a tape, lane by lane") {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> number(0.2, 3.0);
  for (const Rule& r : rules()) {
    INFO(r.name);
    math::Tape tape;
    const Symbol x = tape.input(true), y = tape.input(true);
    tape.result(r.symbol(x, y));
    tape.finish();
    const BothWays program(tape);
    tape::Executor<width> run(program.values);
    tape::AdjointExecutor<width> slopes(program.derivatives);
    for (int trial = 0; trial < 20; ++trial) {
      Pack a, b;
      for (std::size_t i = 0; i < width; ++i) {
        math::set_lane(a, i, (i % 2 == 0 ? 1.0 : -1.0) * number(random));
        math::set_lane(b, i, (i % 3 == 0 ? -1.0 : 1.0) * number(random));
      }
      run.input(0) = slopes.input(0) = a;
      run.input(1) = slopes.input(1) = b;
      run.run();
      slopes.still();
      for (std::size_t i = 0; i < width; ++i) slopes.add(0, i, 1.0);
      slopes.run();
      for (std::size_t i = 0; i < width; ++i) {
        const Jet expected = r.jet(Jet(math::lane(a, i), 0), Jet(math::lane(b, i), 1));
        CHECK(math::lane(run.result(0), i) == within(expected.a, 1e-14 * (1.0 + std::abs(expected.a))));
        CHECK(slopes.flow(0)[i] == within(expected.v[0], 1e-13 * (1.0 + std::abs(expected.v[0]))));
        CHECK(slopes.flow(1)[i] == within(expected.v[1], 1e-13 * (1.0 + std::abs(expected.v[1]))));
      }
    }
  }
}

TEST_CASE("the angle of a unit vector, whose length no derivative changes") {
  math::Tape tape;
  const Symbol angle = tape.input(true), c = tape.input(true), s = tape.input(true);
  tape.result(unit_angle(s, c) * angle);
  tape.finish();
  const BothWays program(tape);
  tape::Executor<width> run(program.values);
  tape::AdjointExecutor<width> slopes(program.derivatives);
  for (double phi = -2.0; phi < 2.0; phi += 0.3) {
    for (auto* inputs : {&run.input(0), &slopes.input(0)}) {
      inputs[0] = Pack(1.0);
      inputs[1] = Pack(std::cos(phi));
      inputs[2] = Pack(std::sin(phi));
    }
    run.run();
    slopes.still();
    slopes.add(0, 5, 1.0);
    slopes.run();
    CHECK(math::lane(run.result(0), 5) == within(phi, 1e-15));
    // Along the circle the angle changes by what its arc does.
    CHECK(-std::sin(phi) * slopes.flow(1)[5] + std::cos(phi) * slopes.flow(2)[5] == within(1.0, 1e-15));
  }
}

TEST_CASE("several results, weighted in lanes of their own") {
  math::Tape tape;
  const Symbol x = tape.input(true), y = tape.input(true);
  tape.result(x * y);
  tape.result(x + x);
  tape.finish();
  const BothWays program(tape);
  tape::AdjointExecutor<width> slopes(program.derivatives);
  slopes.input(0) = Pack(3.0);
  slopes.input(1) = Pack(5.0);
  for (int again = 0; again < 2; ++again) {  // nothing is left from the run before
    slopes.still();
    slopes.add(0, 1, 2.0);
    slopes.add(1, 2, 4.0);
    slopes.add(1, 2, 3.0);
    slopes.run();
    const auto lanes = [&](int input) { return std::vector(slopes.flow(input), slopes.flow(input) + 4); };
    CHECK(lanes(0) == std::vector<double>{0.0, 10.0, 14.0, 0.0});
    CHECK(lanes(1) == std::vector<double>{0.0, 6.0, 0.0, 0.0});
  }
}

TEST_CASE("what is not needed, not variable or already noted costs nothing") {
  math::Tape tape;
  const Symbol x = tape.input(true), still = tape.input(false);
  const Symbol twice = x * still + x * still;
  const Symbol unused = sqrt(x * 17.0);
  tape.result(twice * Symbol(1.0) + Symbol(0.0));
  tape.finish();
  CHECK(unused.entry(tape) >= 0);
  CHECK(tape.operations().size() == 4);  // two inputs, one product, one sum

  const BothWays program(tape);
  tape::Executor<width> run(program.values);
  tape::AdjointExecutor<width> slopes(program.derivatives);
  run.input(0) = slopes.input(0) = Pack(2.0);
  run.input(1) = slopes.input(1) = Pack(3.0);
  run.run();
  slopes.still();
  slopes.add(0, 0, 1.0);
  slopes.run();
  CHECK(math::lane(run.result(0), 0) == 12.0);
  CHECK(slopes.reached() == std::vector{0});
  CHECK(slopes.flow(0)[0] == 6.0);
  CHECK(slopes.flow(1)[0] == 0.0);
}

TEST_CASE("sums of an interpreted tape take their products along") {
  math::Tape tape;
  const Symbol x = tape.input(true), y = tape.input(true), z = tape.input(true);
  const Symbol shared = x * z;
  tape.result(x * y + y * z);           // both products
  tape.result(x * y * z - shared * y);  // a product that more than one needs stands by itself
  tape.result(y - x * x);
  tape.result(sqrt(z) + shared);
  tape.finish();
  std::vector<math::Tape::Kind> steps;
  for (const tape::Step& step : tape::steps_of(tape).list) steps.push_back(step.kind);
  using enum math::Tape::Kind;
  CHECK(steps == std::vector{multiply, multiply, multiply_add, difference, take_product, root, add});

  const BothWays program(tape);
  tape::Executor<width> run(program.values, true);
  tape::AdjointExecutor<width> slopes(program.derivatives);
  const double a = 1.7, b = -0.4, c = 2.3;
  const double values[] = {a * b + b * c, a * b * c - a * c * b, b - a * a, std::sqrt(c) + a * c};
  const double partials[][3] = {{b, a + c, b}, {0.0, 0.0, 0.0}, {-2.0 * a, 1.0, 0.0}, {c, 0.0, 0.5 / std::sqrt(c) + a}};
  for (int i = 0; i < 3; ++i) run.input(i) = slopes.input(i) = Pack(i == 0 ? a : i == 1 ? b : c);
  run.run();
  for (int r = 0; r < 4; ++r) {
    CHECK(math::lane(run.result(r), 3) == within(values[r], 1e-15));
    slopes.still();
    slopes.add(r, 3, 2.0);
    slopes.run();
    for (int i = 0; i < 3; ++i) {
      CHECK(slopes.flow(i)[3] == within(2.0 * partials[r][i], 1e-14));
      CHECK(slopes.flow(i)[2] == 0.0);
    }
  }
}

TEST_CASE("a value without its derivative, and a root of nothing") {
  math::Tape tape;
  const Symbol x = tape.input(true);
  tape.result(x * value(x));
  tape.result(sqrt(x));
  tape.finish();
  const BothWays program(tape);
  tape::Executor<width> run(program.values);
  tape::AdjointExecutor<width> slopes(program.derivatives);
  Pack a(3.0);
  math::set_lane(a, 1, 0.0);
  run.input(0) = slopes.input(0) = a;
  run.run();
  slopes.still();
  slopes.add(0, 0, 1.0);
  slopes.add(1, 1, 1.0);
  slopes.run();
  CHECK(math::lane(run.result(0), 0) == 9.0);
  CHECK(slopes.flow(0)[0] == 3.0);
  CHECK(slopes.flow(0)[1] == 0.0);
}
