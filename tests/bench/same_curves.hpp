// What the general kernel and the routine written by hand both compute.
#pragma once

#include "bike/station.hpp"
#include "tests/bench/by_hand_bike.hpp"

namespace trammel::bench {

inline constexpr std::size_t gears = 3;
inline constexpr std::size_t stations = test::by_hand_stations;
using ByHandCurves = by_hand::Curves<double, stations, gears>;

/// The curves that the routine written by hand computes.
inline bike::Wanted same_curves() {
  bike::Wanted wanted = bike::Wanted::nothing(gears);
  wanted.anti_rise = true;
  for (bike::Wanted::OfGear& gear : wanted.gears) gear = {true, true};
  return wanted;
}

}  // namespace trammel::bench
