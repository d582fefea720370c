#include "brief/tolerances.hpp"

#include <cmath>

namespace trammel::brief {

double Tolerances::deviation(double plus_minus) const {
  // Of an even spread over ±a: a/√3.
  return law == Law::uniform ? plus_minus / std::sqrt(3.0) : plus_minus / sigmas;
}

}  // namespace trammel::brief
