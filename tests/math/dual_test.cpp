// The derivative-carrying number against another library's (ceres::Jet) and against central differences, rule by rule.
#include <ceres/jet.h>

#include <catch2/catch.hpp>
#include <functional>
#include <string>

#include "math/dual.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

namespace {

constexpr int lanes = 4;
using Dual = math::Dual<lanes>;
using Jet = ceres::Jet<double, lanes>;

/// A formula in two variables, for the three number types.
struct Rule {
  std::string name;
  std::function<Dual(Dual, Dual)> dual;
  std::function<Jet(Jet, Jet)> jet;
  std::function<double(double, double)> plain;
};

Rule rule(const std::string& name, auto formula) {
  return {name, formula, formula, formula};
}

// The functions of both number types and of a plain double, found by the argument's type.
using math::abs;
using math::atan2;
using math::log;
using math::pow;
using math::sqrt;

std::vector<Rule> rules() {
  const double k = 1.7;
  return {
      rule("x + y", [](auto x, auto y) { return x + y; }),
      rule("x − y", [](auto x, auto y) { return x - y; }),
      rule("x · y", [](auto x, auto y) { return x * y; }),
      rule("x / y", [](auto x, auto y) { return x / y; }),
      rule("−x + y", [](auto x, auto y) { return -x + y; }),
      rule("x + k", [k](auto x, auto) { return x + k; }),
      rule("k + x", [k](auto x, auto) { return k + x; }),
      rule("x − k", [k](auto x, auto) { return x - k; }),
      rule("k − x", [k](auto x, auto) { return k - x; }),
      rule("x · k", [k](auto x, auto) { return x * k; }),
      rule("k · x", [k](auto x, auto) { return k * x; }),
      rule("x / k", [k](auto x, auto) { return x / k; }),
      rule("x += y", [](auto x, auto y) { return x += y; }),
      rule("x −= y", [](auto x, auto y) { return x -= y; }),
      rule("x *= y", [](auto x, auto y) { return x *= y; }),
      rule("√(x² + y²)", [](auto x, auto y) { return sqrt(x * x + y * y); }),
      rule("atan2(x, y)", [](auto x, auto y) { return atan2(x, y); }),
      rule("atan2(−x, −y)", [](auto x, auto y) { return atan2(-x, -y); }),
      rule("(x² + y²)^1.4", [](auto x, auto y) { return pow(x * x + y * y, 1.4); }),
      rule("log(x² + y²)", [](auto x, auto y) { return log(x * x + y * y); }),
      rule("|x| · y", [](auto x, auto y) { return abs(x) * y; }),
      rule("x·√(x² + 1)/(y² + 2) − atan2(y, x)·x",
           [](auto x, auto y) { return x * sqrt(x * x + 1.0) / (y * y + 2.0) - atan2(y, x) * x; }),
  };
}

const std::pair<double, double> places[] = {{0.7, 1.3}, {-2.1, 0.4}, {3.0, -0.9}, {-0.02, -5.0}};

}  // namespace

TEST_CASE("each rule of the dual number agrees with ceres::Jet") {
  for (const Rule& r : rules()) {
    for (const auto& [x, y] : places) {
      INFO(r.name << " at " << x << ", " << y);
      // Partials in all lanes, some shared, so that a lane that is lost or swapped shows.
      Dual dx(x), dy(y);
      Jet jx(x), jy(y);
      for (int i = 0; i < lanes; ++i) {
        jx.v[i] = 0.3 * (i + 1);
        dx.d.set(static_cast<std::size_t>(i), jx.v[i]);
        jy.v[i] = 1.0 - 0.7 * i;
        dy.d.set(static_cast<std::size_t>(i), jy.v[i]);
      }
      const Dual ours = r.dual(dx, dy);
      const Jet theirs = r.jet(jx, jy);
      CHECK(ours.v == test::within(theirs.a, 1e-15 * (1.0 + std::abs(theirs.a))));
      for (int i = 0; i < lanes; ++i)
        CHECK(ours.d[static_cast<std::size_t>(i)] == test::within(theirs.v[i], 4e-15 * (1.0 + std::abs(theirs.v[i]))));
    }
  }
}

TEST_CASE("each rule of the dual number agrees with central differences") {
  for (const Rule& r : rules()) {
    for (const auto& [x, y] : places) {
      INFO(r.name << " at " << x << ", " << y);
      const Dual ours = r.dual(Dual::variable(x, 0), Dual::variable(y, 3));
      // Errs by h²·f'''/6 and by rounding/h, together about 1e-10 at this step.
      const double h = 1e-5;
      const double by_x = (r.plain(x + h, y) - r.plain(x - h, y)) / (2.0 * h);
      const double by_y = (r.plain(x, y + h) - r.plain(x, y - h)) / (2.0 * h);
      CHECK(ours.v == r.plain(x, y));
      CHECK(ours.d[0] == test::within(by_x, 1e-8 * (1.0 + std::abs(by_x))));
      CHECK(ours.d[3] == test::within(by_y, 1e-8 * (1.0 + std::abs(by_y))));
      CHECK(ours.d[1] == 0.0);
      CHECK(ours.d[2] == 0.0);
    }
  }
}

TEST_CASE("dual numbers at the edges: zero roots, zero angles, choices") {
  const Dual zero = Dual::variable(0.0, 0), one = Dual::variable(1.0, 1);
  CHECK(math::sqrt(zero).v == 0.0);
  CHECK(math::sqrt(zero).d[0] == 0.0);  // documented: no slope at a clamped root, rather than infinity
  CHECK(math::atan2(zero, Dual(0.0)).v == 0.0);
  CHECK(math::atan2(zero, Dual(0.0)).d[0] == 0.0);
  CHECK(math::select(true, zero, one).d[0] == 1.0);
  CHECK(math::select(false, zero, one).d[1] == 1.0);
  CHECK(math::max(zero, one).d[1] == 1.0);
  CHECK(math::min(zero, one).d[0] == 1.0);
  // On a tie the first counts.
  CHECK(math::max(zero, Dual(0.0)).d[0] == 1.0);
  CHECK(math::min(zero, Dual(0.0)).d[0] == 1.0);
  CHECK(math::max(Dual(0.0), zero).d[0] == 0.0);
  CHECK(Dual::variable(2.0, 2, 5.0).d[2] == 5.0);
  CHECK(value(one) == 1.0);
  CHECK((zero < one && one > zero && zero <= one && one >= one));
}
