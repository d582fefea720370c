// The wishes that are usual for a kind of bike, as a brief writes them.
#pragma once

#include <string>

#include "draft/usual.hpp"

namespace trammel::draft {

/// What wishes are about.
struct Wished {
  double travel = 0.0;                 ///< mm
  std::optional<double> stroke;        ///< of the shock, mm; without it nothing is wished of the leverage
  bool direct = false;                 ///< the shock sits on the axle's own member, as on a plain single pivot
  std::array<std::string, 3> gears{};  ///< names of the lowest gear, one in the middle, the highest; empty = none
};

/// The group `targets` with nothing but the wheel travel in it, in mm.
std::string travel_target(double travel);
/// The group `targets`, with its line breaks.
std::string usual_targets(const UsualKind& kind, const Wished& wished);

}  // namespace trammel::draft
