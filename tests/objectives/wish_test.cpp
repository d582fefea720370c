// What a wish allows, and how residual and margin measure a value against it. All expected numbers are by hand.
#include "objectives/wish.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "math/dual.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using test::within;

namespace {

using Kind = Wish::Kind;
constexpr double infinite = std::numeric_limits<double>::infinity();

Target target(Kind kind, double lo, double hi, double tolerance) {
  Target t;
  t.wish.kind = kind;
  t.wish.lo = lo;
  t.wish.hi = hi;
  t.tolerance = tolerance;
  return t;
}

Target following(const std::vector<std::pair<double, double>>& path, double tolerance) {
  Target t = target(Kind::follow, 0.0, 0.0, tolerance);
  t.wish.path = path;
  return t;
}

struct Case {
  std::string name;
  Target target;
  double fraction, lo, hi, depth;
};

const std::vector<Case>& cases() {
  static const std::vector<Case> all = {
      {"band", target(Kind::band, 96, 108, 2), 0.5, 96, 108, 6},
      {"band through zero", target(Kind::band, -4, 10, 1), 0.0, -4, 10, 7},
      {"band without width", target(Kind::band, 5, 5, 0.5), 0.0, 5, 5, 0.5},
      {"ceiling", target(Kind::ceiling, 0, 24, 1.5), 1.0, -infinite, 24, 1.5},
      {"floor", target(Kind::floor, -20, 0, 2), 1.0, -20, infinite, 2},
      {"value", target(Kind::value, 2.5, 2.5, 0.1), 0.3, 2.4, 2.6, 0.1},
      {"follow", following({{0, 2.9}, {1, 2.3}}, 0.1), 0.25, 2.65, 2.85, 0.1},
  };
  return all;
}

double residual_at(const Case& c, double y, double inset) {
  return residual(allowed_at(c.target, c.fraction), y, c.target.tolerance, inset);
}

}  // namespace

TEST_CASE("what each kind of wish allows") {
  for (const Case& c : cases()) {
    INFO(c.name);
    const Allowed allowed = allowed_at(c.target, c.fraction);
    CHECK((allowed.lo == c.lo || std::abs(allowed.lo - c.lo) < 1e-14 * std::abs(c.lo)));
    CHECK((allowed.hi == c.hi || std::abs(allowed.hi - c.hi) < 1e-14 * std::abs(c.hi)));
    CHECK(allowed.depth == within(c.depth, 1e-14));
  }
}

TEST_CASE("a path is straight between its points and level outside them") {
  Wish wish;
  wish.kind = Kind::follow;
  wish.path = {{0.2, 3.0}, {0.5, 2.4}, {0.9, 2.8}};
  CHECK(path_value(wish, 0.0) == 3.0);
  CHECK(path_value(wish, 0.2) == 3.0);
  CHECK(path_value(wish, 0.3) == within(2.8, 1e-15));
  CHECK(path_value(wish, 0.5) == within(2.4, 1e-15));
  CHECK(path_value(wish, 0.6) == within(2.5, 1e-15));
  CHECK(path_value(wish, 0.9) == within(2.8, 1e-15));
  CHECK(path_value(wish, 1.0) == 2.8);
}

TEST_CASE("a residual is zero where the wish is met, edges included") {
  for (const Case& c : cases()) {
    INFO(c.name);
    const Allowed a = allowed_at(c.target, c.fraction);
    const double lo = std::max(a.lo, -1e6), hi = std::min(a.hi, 1e6);
    for (int i = 0; i <= 10; ++i) CHECK(residual_at(c, lo + (hi - lo) * i / 10.0, 0.0) <= 1e-15);
    CHECK(residual_at(c, lo, 0.0) == 0.0);
    CHECK(residual_at(c, hi, 0.0) == 0.0);
  }
}

TEST_CASE("outside, a residual counts tolerances") {
  for (const Case& c : cases()) {
    INFO(c.name);
    for (double tolerances : {0.1, 1.0, 7.0}) {
      const double off = tolerances * c.target.tolerance;
      if (c.lo > -infinite) CHECK(residual_at(c, c.lo - off, 0.0) == within(tolerances, 1e-12));
      if (c.hi < infinite) CHECK(residual_at(c, c.hi + off, 0.0) == within(tolerances, 1e-12));
    }
  }
}

TEST_CASE("an inset asks for that much margin") {
  for (const Case& c : cases()) {
    INFO(c.name);
    for (double inset : {0.25, 0.5, 0.9}) {
      INFO("inset " << inset);
      const double deep = inset * c.depth;
      if (c.lo > -infinite) {
        CHECK(residual_at(c, c.lo, inset) == within(deep / c.target.tolerance, 1e-12));
        if (c.hi > c.lo) CHECK(residual_at(c, c.lo + deep + 1e-9, inset) <= 1e-12);
      }
      if (c.hi < infinite) {
        CHECK(residual_at(c, c.hi, inset) == within(deep / c.target.tolerance, 1e-12));
        if (c.hi > c.lo) CHECK(residual_at(c, c.hi - deep - 1e-9, inset) <= 1e-12);
      }
    }
  }
}

TEST_CASE("a layout without residual at an inset has at least that margin") {
  for (const Case& c : cases()) {
    INFO(c.name);
    const Allowed a = allowed_at(c.target, c.fraction);
    const double from = (c.lo > -infinite ? a.lo : a.hi - 40.0) - 5.0;
    const double to = (c.hi < infinite ? a.hi : a.lo + 40.0) + 5.0;
    for (double inset : {0.0, 0.3, 0.8}) {
      for (int i = 0; i <= 500; ++i) {
        const double y = from + (to - from) * i / 500.0;
        const bool none = residual(a, y, c.target.tolerance, inset) <= 0.0;
        const double m = margin(a, y);
        INFO("at " << y << " with inset " << inset << ": margin " << m);
        // Either way round, but for what rounding leaves of a value that stands on the inset.
        if (none) CHECK(m >= inset - 1e-12);
        if (m > inset + 1e-12) CHECK(none);
      }
    }
  }
}

TEST_CASE("the margin is 1 in the middle, 0 on the edge, negative outside in the same measure") {
  for (const Case& c : cases()) {
    INFO(c.name);
    const Allowed a = allowed_at(c.target, c.fraction);
    if (c.lo > -infinite) {
      CHECK(margin(a, a.lo) == 0.0);
      CHECK(margin(a, a.lo - 2.5 * c.depth) == within(-2.5, 1e-12));
      if (c.hi > c.lo) CHECK(margin(a, a.lo + 0.25 * c.depth) == within(0.25, 1e-12));
    }
    if (c.hi < infinite) {
      CHECK(margin(a, a.hi) == 0.0);
      CHECK(margin(a, a.hi + 2.5 * c.depth) == within(-2.5, 1e-12));
      if (c.hi > c.lo) CHECK(margin(a, a.hi - 0.25 * c.depth) == within(0.25, 1e-12));
    }
    if (c.lo > -infinite && c.hi < infinite && c.hi > c.lo) CHECK(margin(a, 0.5 * (a.lo + a.hi)) == within(1.0, 1e-12));
    // One-sided wishes: no more than 1 however far inside.
    if (c.lo == -infinite) CHECK(margin(a, a.hi - 1e6) == 1.0);
    if (c.hi == infinite) CHECK(margin(a, a.lo + 1e6) == 1.0);
  }
}

TEST_CASE("the squared residual has no step and no kink at the edges") {
  // One-sided differences of r² from both sides of an edge, at ever smaller steps: value and slope must agree. A slope
  // that jumps, as that of |r| does, would stay 1/tolerance apart.
  for (const Case& c : cases()) {
    INFO(c.name);
    for (double inset : {0.0, 0.4}) {
      const double deep = inset * c.depth;
      std::vector<double> edges;
      if (c.hi > c.lo && c.lo > -infinite) edges.push_back(c.lo + deep);
      if (c.hi > c.lo && c.hi < infinite) edges.push_back(c.hi - deep);
      const auto square = [&](double y) { return math::square(residual_at(c, y, inset)); };
      for (double edge : edges) {
        for (double share : {1e-2, 1e-3, 1e-4}) {
          const double h = share * c.target.tolerance;
          INFO("edge " << edge << ", step " << h);
          const double left = (square(edge) - square(edge - h)) / h, right = (square(edge + h) - square(edge)) / h;
          const double unit = 1.0 / c.target.tolerance;  // slope of r itself outside
          CHECK(std::abs(right - left) <= 1.01 * share * unit);
          CHECK(std::abs(square(edge + h) - square(edge - h)) <= 1.01 * share * share);
        }
      }
    }
  }
}

TEST_CASE("a derivative-carrying residual has the slope by hand") {
  using Dual = math::Dual<2>;
  for (const Case& c : cases()) {
    INFO(c.name);
    const Allowed a = allowed_at(c.target, c.fraction);
    const auto slope = [&](double y) { return residual(a, Dual::variable(y, 0), c.target.tolerance, 0.0).d[0]; };
    if (c.lo > -infinite) CHECK(slope(c.lo - 0.7) == within(-1.0 / c.target.tolerance, 1e-12));
    if (c.hi < infinite) CHECK(slope(c.hi + 0.7) == within(1.0 / c.target.tolerance, 1e-12));
    if (c.lo > -infinite && c.hi < infinite && c.hi > c.lo) CHECK(slope(0.5 * (c.lo + c.hi)) == 0.0);
  }
}
