// Springs with invented, plausible numbers.
#pragma once

#include "spring/spring.hpp"

namespace trammel::test {

inline spring::Air air_spring() {
  spring::Air air;
  air.bore = 46.0;
  air.shaft = 10.0;
  air.positive = 150.0;
  air.negative = 70.0;
  air.transfer = 5.0;
  air.pressure = 12.0;
  air.spacer = 8.0;
  air.exponent = 1.35;
  return air;
}

}  // namespace trammel::test
