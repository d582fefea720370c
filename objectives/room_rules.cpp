#include "objectives/room_rules.hpp"

namespace trammel::objectives {

bike::Room room_of(const bike::Model& model, const Packaging& packaging) {
  std::vector<bike::Gap> gaps;
  for (const Clearance& clearance : packaging.clearances)
    for (const int other : clearance.to) gaps.push_back({clearance.of, other, clearance.least});
  std::vector<bike::KeptIn> kept_in;
  for (const KeepIn& region : packaging.keep_in) kept_in.push_back({region.point, region.corners, region.least});
  return {model, packaging.bodies, gaps, kept_in};
}

}  // namespace trammel::objectives
