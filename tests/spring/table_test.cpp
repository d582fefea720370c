// Measured springs against Boost's interpolation of the same name and against plain calculus.
#include <math.h>  // the next header calls isnan without a namespace

#include <boost/math/interpolators/pchip.hpp>
#include <catch2/catch.hpp>

#include "math/dual.hpp"
#include "spring/spring.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using Points = std::vector<spring::Table::Point>;

namespace {

/// Invented readings, unevenly spaced, with a level stretch and a steep end.
const Points readings{{0, 0},    {2, 180},   {5, 260},     {11, 420},  {18, 700}, {24, 700},
                      {33, 900}, {41, 1500}, {47.5, 2600}, {52, 4100}, {55, 6400}};

}  // namespace

TEST_CASE("between the readings it is the interpolant of Fritsch and Butland") {
  const spring::Table table(readings);
  std::vector<double> x, y;
  for (const auto& [c, f] : readings) {
    x.push_back(c);
    y.push_back(f);
  }
  // Boost takes the slopes at the ends from the caller; inside it finds its own.
  boost::math::interpolators::pchip<std::vector<double>> other(std::move(x), std::move(y), table.stiffness(0.0),
                                                               table.stiffness(55.0));
  for (double c = 0.0; c <= 55.0; c += 0.37) {
    INFO("c = " << c);
    CHECK(table.force(c) == test::within(other(c), 1e-9));
    CHECK(table.stiffness(c) == test::within(other.prime(c), 1e-9));
  }
}

TEST_CASE("it goes through the readings and never turns back between them") {
  const spring::Table table(readings);
  for (const auto& [c, f] : readings) CHECK(table.force(c) == test::within(f, 1e-9));
  double last = table.force(0.0);
  for (double c = 0.01; c <= 55.0; c += 0.01) {
    const double force = table.force(c);
    if (force < last - 1e-9) FAIL("it falls at c = " << c);
    last = force;
  }
}

TEST_CASE("its end slopes are those of a parabola through three readings") {
  Points points;
  const auto force = [](double c) { return 50.0 + 20.0 * c + 1.5 * c * c; };
  for (const double c : {0.0, 4.0, 9.0, 15.0}) points.emplace_back(c, force(c));
  const spring::Table table(points);
  CHECK(table.stiffness(0.0) == test::within(20.0, 1e-12));
  CHECK(table.stiffness(15.0) == test::within(20.0 + 2.0 * 1.5 * 15.0, 1e-12));
}

TEST_CASE("a straight line of readings is a coil, also beyond them") {
  const spring::Table table({{0, 100}, {10, 900}, {35, 2900}, {60, 4900}});
  const spring::Coil coil{80.0, 1.25};
  for (const double c : {-3.0, 0.0, 7.0, 10.0, 34.9, 60.0, 66.0}) {
    CHECK(table.force(c) == test::within(coil.force(c), 1e-9));
    CHECK(table.stiffness(c) == test::within(80.0, 1e-11));
    CHECK(table.energy(c) == test::within(coil.energy(c), 1e-7));
  }
}

TEST_CASE("a table's stiffness and energy belong to its force") {
  const spring::Spring spring{spring::Table(readings)};
  using Dual = math::Dual<2>;
  for (double c = -1.0; c <= 57.0; c += 0.61) {
    INFO("c = " << c);
    CHECK(spring.force(Dual::variable(c, 0)).d[0] == test::within(spring.stiffness(c), 1e-9));
    CHECK(spring.energy(Dual::variable(c, 0)).d[0] == test::within(spring.force(c), 1e-9));
  }
  // Two readings make a straight line.
  CHECK(spring::Table({{0, 0}, {50, 1000}}).force(20.0) == test::within(400.0, 1e-12));
}

TEST_CASE("where the readings turn back after the first piece, its slope is held to three times the secant") {
  // A cubic piece is monotone where the slopes at its ends are no more than three times its secant (Fritsch & Carlson,
  // SIAM J. Numer. Anal. 17 (1980) 238-246, from memory). The parabola through these three has 9 N/mm at its first,
  // against a secant of 2 N/mm; at the other end it is the same the other way round.
  const Points rising{{0, 0}, {1, 2}, {2, -10}}, falling{{0, -10}, {1, 2}, {2, 0}};
  const spring::Table first(rising), last(falling);
  CHECK(first.stiffness(0.0) == test::within(6.0, 1e-12));
  CHECK(last.stiffness(2.0) == test::within(-6.0, 1e-12));
  double before = 0.0;
  for (double c = 0.0; c <= 1.0; c += 0.01) {
    CHECK(first.force(c) >= before - 1e-12);
    CHECK(first.force(c) <= 2.0 + 1e-12);
    before = first.force(c);
  }
}
