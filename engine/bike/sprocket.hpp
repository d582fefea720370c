// Chain and sprocket dimensions.
#pragma once

#include <cmath>

#include "math/number.hpp"

namespace trammel::bike {

/// Chain pitch of bicycle chain, mm (ISO 606 chain number 081 and its like; common practice).
inline constexpr double chain_pitch = 12.7;

/// Pitch radius of a sprocket in mm: half of p / sin(180°/z), the pitch polygon of ISO 606. `teeth` ≥ 3.
inline double pitch_radius(int teeth, double pitch = chain_pitch) {
  return pitch / (2.0 * std::sin(math::pi / teeth));
}

}  // namespace trammel::bike
