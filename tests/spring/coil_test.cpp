// Coil springs against the units in which they are sold.
#include <catch2/catch.hpp>

#include "math/dual.hpp"
#include "spring/spring.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

namespace {

// By definition: 1 lbf = 0.45359237 kg × 9.80665 m/s² (read at a unit conversion site), 1 in = 25.4 mm.
constexpr double pound_force = 0.45359237 * 9.80665;  // N
constexpr double inch = 25.4;                         // mm

}  // namespace

TEST_CASE("a coil marked in pounds per inch carries its mark for every inch") {
  // Rates in N/mm computed from the definitions; NIST SP 811 prints 1.751268E+02 N/m per lbf/in (from memory).
  const std::pair<double, double> marks[] = {{300, 52.5381}, {350, 61.2944}, {400, 70.0507}, {450, 78.8071},
                                             {500, 87.5634}, {550, 96.3198}, {600, 105.0761}};
  for (const auto& [mark, rate] : marks) {
    INFO(mark << " lbf/in");
    const spring::Coil coil{rate, 0.0};
    // Rates are printed to 0.00005 N/mm, so two inches of travel are right to 0.0025 N.
    CHECK(coil.force(2.0 * inch) == test::within(2.0 * mark * pound_force, 0.00005 * 2.0 * inch));
    CHECK(coil.stiffness(10.0) == rate);
  }
}

TEST_CASE("preload is carried from the start, and the stiffness is the force's slope") {
  const spring::Coil coil{80.0, 1.5};
  CHECK(coil.force(0.0) == 120.0);
  CHECK(coil.force(20.0) == 80.0 * 21.5);
  using Dual = math::Dual<2>;
  const Dual force = coil.force(Dual::variable(20.0, 1));
  CHECK(force.v == coil.force(20.0));
  CHECK(force.d[1] == coil.stiffness(20.0));
}
