// How near is near enough, said in full: Catch's Approx alone also accepts a relative error of 1.2e-5.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>

namespace trammel::test {

/// Equal to a printed figure: within half a unit of the last of its `decimals`.
inline Catch::Detail::Approx printed(double value, int decimals) {
  return Approx(value).epsilon(0.0).margin(0.5 * std::pow(10.0, -decimals));
}
/// Within an absolute error.
inline Catch::Detail::Approx within(double value, double error) {
  return Approx(value).epsilon(0.0).margin(error);
}
/// Within a relative error.
inline Catch::Detail::Approx relative(double value, double error) {
  return Approx(value).epsilon(error).margin(0.0);
}

}  // namespace trammel::test
