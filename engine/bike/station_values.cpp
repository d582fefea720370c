#include "bike/station_values.hpp"

#include <algorithm>

namespace trammel::bike {

Wanted Wanted::nothing(std::size_t gears) {
  Wanted wanted;
  wanted.gears.resize(gears);
  return wanted;
}

Wanted Wanted::everything(std::size_t gears) {
  Wanted wanted;
  wanted.gears.assign(gears, {true, true, true, true});
  wanted.chainstay = wanted.chainstay_share = wanted.motion_ratio = wanted.shock_line = wanted.support = true;
  wanted.angles = wanted.head_tube = wanted.centre = wanted.anti_rise = wanted.forces = wanted.energy = true;
  return wanted;
}

void Wanted::add(const CurveKey& key) {
  switch (key.curve) {
    case Curve::chain_growth:
    case Curve::kickback:
      gears[static_cast<std::size_t>(key.gear)].growth = true;
      break;
    case Curve::anti_squat:
      gears[static_cast<std::size_t>(key.gear)].anti_squat = true;
      break;
    case Curve::total_chain_growth:
      gears[static_cast<std::size_t>(key.gear)].total = true;
      break;
    case Curve::chain_clearance:
      gears[static_cast<std::size_t>(key.gear)].clearance = true;
      break;
    case Curve::chainstay:
    case Curve::chainstay_growth:
      chainstay = true;
      break;
    case Curve::chainstay_growth_share:
      chainstay = chainstay_share = true;
      break;
    case Curve::motion_ratio:
      motion_ratio = true;
      break;
    case Curve::shock_angle:
    case Curve::shock_rotation:
      shock_line = true;
      break;
    case Curve::pitch:
    case Curve::head_angle:
    case Curve::seat_angle:
      angles = true;
      break;
    case Curve::reach:
    case Curve::stack:
    case Curve::trail:
      head_tube = true;
      break;
    case Curve::ic_x:
    case Curve::ic_y:
      centre = true;
      break;
    case Curve::anti_rise:
      anti_rise = true;
      break;
    case Curve::shock_force:
    case Curve::wheel_force:
    case Curve::wheel_rate:
      forces = true;
      break;
    case Curve::spring_support:
      if (!key.of_rider()) {
        support = true;
        break;
      }
      [[fallthrough]];
    case Curve::set_up_rate:
    case Curve::set_up_pressure:
    case Curve::set_up_bottom_force:
    case Curve::point_x:
    case Curve::point_y:
    case Curve::point_distance:
      if (std::find(named.begin(), named.end(), key) == named.end()) named.push_back(key);
      break;
    case Curve::pivot_force:
      // Those of one load case together, since its balance is found once for all of them.
      if (std::find(named.begin(), named.end(), key) == named.end())
        named.insert(std::upper_bound(named.begin(), named.end(), key,
                                      [](const CurveKey& a, const CurveKey& b) { return a.load < b.load; }),
                     key);
      break;
    case Curve::energy:
    case Curve::energy_to_bottom:
      energy = true;
      break;
    default:
      break;  // what every station has anyway
  }
}

}  // namespace trammel::bike
