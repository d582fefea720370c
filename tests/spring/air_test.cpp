// Air springs against gas columns worked out by hand and a vibrations exercise.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "math/dual.hpp"
#include "spring/spring.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

namespace {

/// Bore radius 20 mm, chamber 80 mm, 1 MPa gauge, no negative chamber.
spring::Air column(double exponent) {
  spring::Air air;
  air.bore = 40.0;
  air.positive = std::numbers::pi * 400.0 * 80.0 / 1000.0;
  air.pressure = 10.0;
  air.exponent = exponent;
  return air;
}

spring::Air two_chambers() {
  spring::Air air;
  air.bore = 38.0;
  air.shaft = 9.5;
  air.positive = 105.0;
  air.negative = 42.0;
  air.transfer = 6.0;
  air.pressure = 12.5;
  air.spacer = 7.0;
  air.spacers = 2;
  air.exponent = 1.35;
  return air;
}

}  // namespace

TEST_CASE("a column of gas pushes as its formula says") {
  // F = A·(p0·(L0/(L0 − s))^n − p_atm) and k = n·p·A²/V, worked out beforehand with p_atm = 101325 Pa.
  struct Row {
    double s;
    double values[3][2];
  };
  const Row rows[] = {{0, {{1256.637, 17.2996}, {1256.637, 22.4894}, {1256.637, 24.2194}}},
                      {10, {{1454.346, 22.5954}, {1518.994, 30.5746}, {1541.125, 33.3691}}},
                      {20, {{1717.959, 30.7548}, {1884.290, 43.5851}, {1943.001, 48.3077}}},
                      {30, {{2087.017, 44.2869}, {2422.326, 66.2910}, {2545.021, 74.8258}}},
                      {40, {{2640.603, 69.1983}, {3280.395, 110.7510}, {3524.979, 127.8308}}},
                      {50, {{3563.247, 123.0192}, {4825.858, 214.6381}, {5336.305, 254.9696}}},
                      {55, {{4301.362, 177.1476}, {6150.657, 326.4553}, {6925.045, 394.9329}}}};
  const double exponents[] = {1.0, 1.3, 1.4};
  const double work[] = {121.7778, 147.1049, 156.9771};  // J from 0 to 55 mm
  for (int i = 0; i < 3; ++i) {
    const spring::Spring spring(column(exponents[i]));
    for (const Row& row : rows) {
      INFO("n = " << exponents[i] << ", s = " << row.s);
      // Half of the last digit given.
      CHECK(spring.force(row.s) == test::within(row.values[i][0], 5e-4));
      CHECK(spring.stiffness(row.s) == test::within(row.values[i][1], 5e-5));
    }
    CHECK(spring.energy(55.0) / 1000.0 == test::within(work[i], 5e-5));
  }
  CHECK(spring::Spring(column(1.4)).force(30.0, spring::Pace::set_up) == test::within(2087.017, 5e-4));
}

TEST_CASE("the area of an air spring for a wanted stiffness") {
  // S. Graham Kelly's exercise: γ = 1.4, k = 300 N/m, p = 150 kPa absolute, column 0.30 m: A = k·h/(γ·p).
  spring::Air air;
  const double area = 0.3 * 300.0 / (1.4 * 0.15);  // mm², k in N/mm, p in N/mm²
  CHECK(area == test::within(428.57, 5e-3));
  air.bore = std::sqrt(4.0 * area / std::numbers::pi);
  air.positive = area * 300.0 / 1000.0;
  air.pressure = 1.5 - 1.01325;
  air.exponent = 1.4;
  CHECK(spring::Spring(air).stiffness(0.0) == test::relative(0.3, 1e-12));
}

TEST_CASE("both chambers have the same pressure at the transfer port, at any pace") {
  const spring::Air air = two_chambers();
  for (const double n : {1.0, 1.2, 1.4}) {
    const spring::Chamber plus = air.positive_chamber(), minus = air.negative_chamber(n);
    // With one pressure p on both sides, F = (A⁺ − A⁻)·(p − p_atm): what the shaft's cross-section carries.
    const double p = plus.pressure * std::pow(plus.volume / (plus.volume - plus.area * 6.0), n);
    CHECK(minus.pressure * std::pow(minus.volume / (minus.volume - minus.area * 6.0), n) == test::relative(p, 1e-13));
    const double shaft = std::numbers::pi * 9.5 * 9.5 / 4.0;
    CHECK(air.force(6.0, n) == test::relative(shaft * (p - 0.101325), 1e-11));
  }
}

TEST_CASE("a spacer stiffens the end and leaves the pump's pressure alone") {
  spring::Air with = two_chambers(), without = with;
  without.spacers = 0;
  CHECK(with.positive_chamber().pressure == without.positive_chamber().pressure);
  CHECK(with.positive_chamber().volume == test::within(91000.0, 1e-9));
  CHECK(with.force(50.0, 1.35) > 1.1 * without.force(50.0, 1.35));
}

TEST_CASE("stiffness and energy belong to the force, in every number type") {
  spring::Spring spring(two_chambers());
  spring.bump_stop = spring::BumpStop{12.0, 2500.0};
  spring.stroke = 57.5;
  using Dual = math::Dual<2>;
  for (const auto pace : {spring::Pace::stroke, spring::Pace::set_up})
    for (double c = 0.0; c <= 57.5; c += 2.5) {
      INFO("c = " << c);
      const Dual force = spring.force(Dual::variable(c, 1), pace);
      CHECK(force.v == spring.force(c, pace));
      CHECK(force.d[1] == test::relative(spring.stiffness(c, pace), 1e-12));
      CHECK(force.d[0] == 0.0);
      const Dual energy = spring.energy(Dual::variable(c, 0), pace);
      CHECK(energy.d[0] == test::within(spring.force(c, pace), 1e-9));
      CHECK(energy.v == spring.energy(c, pace));
    }
}

TEST_CASE("a bump stop starts softly and reaches its force at the end of the stroke") {
  spring::Spring spring(spring::Coil{80.0, 0.0});
  spring.bump_stop = spring::BumpStop{10.0, 3000.0};
  spring.stroke = 60.0;
  CHECK(spring.force(50.0) == 4000.0);
  CHECK(spring.stiffness(50.0) == 80.0);
  CHECK(spring.force(55.0) == test::within(4400.0 + 750.0, 1e-9));
  CHECK(spring.force(60.0) == test::within(4800.0 + 3000.0, 1e-9));
  CHECK(spring.energy(60.0) == test::within(0.5 * 80.0 * 3600.0 + 3000.0 * 10.0 / 3.0, 1e-7));
}

TEST_CASE("a chamber compressed beyond its end stays finite") {
  const spring::Spring spring(column(1.4));
  for (const double c : {80.0, 100.0}) {
    CHECK(std::isfinite(spring.force(c)));
    CHECK(std::isfinite(spring.stiffness(c)));
    CHECK(std::isfinite(spring.energy(c)));
  }
}
