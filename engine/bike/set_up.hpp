// Set-up: which spring holds a rider at the wanted sag, and what it then does to the bottom of the stroke.
#pragma once

#include <optional>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::bike {

/// What the suspension carries while the bike stands level under its rider.
struct StaticLoad {
  double wheel = 0.0;  ///< at the rear axle across the ground, the unsprung mass left out, N
  double shock = 0.0;  ///< along the shock, N: by virtual work, wheel load · (n·dP/dc)
};

/// One rider.
struct SetUpRow {
  double rider = 0.0;             ///< kg
  StaticLoad load;                ///< at the wanted sag
  double wanted = 0.0;            ///< coil rate in N/mm or gauge pressure in bar for exactly the wanted sag; a measured
                                  ///< table has none (0)
  std::optional<double> offered;  ///< what the list or range has that comes nearest, the same unit; absent = no choice
                                  ///< was given
  int spacers = 0;                ///< air: the fewest with which the landing load does not bottom the shock
  double sag = 0.0;               ///< with `offered`, or else `wanted` or the table; fraction of what the sag is of
  double sag_off = 0.0;           ///< sag − wanted sag
  double least_sag = 0.0, greatest_sag = 0.0;  ///< where breakaway friction lets it rest
  bool fits = false;                           ///< |sag_off| ≤ the sag tolerance
  double bottom_force = 0.0;                   ///< wheel force bottomed at the pace of a stroke, N
  double energy_to_bottom = 0.0;               ///< from its sag, J, at the pace of a stroke
  /// 100·(bottom_force / landing load − 1), %; the landing load grows with the sprung mass. Negative: it bottoms out.
  std::optional<double> bottom_margin;
};

/// Empty without a spring and masses. Throws MotionFailure when the layout does not move through its stroke.
std::vector<SetUpRow> set_up(const Layout& layout);

/// Static load at a wheel travel, mm. Requires masses and a shock.
StaticLoad static_load(const Layout& layout, double rider, double travel);

}  // namespace trammel::bike
