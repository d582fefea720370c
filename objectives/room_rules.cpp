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

std::string room_subject(const bike::Room& room, const bike::Model& model, const Packaging& packaging, std::size_t k) {
  const auto body = [&](int number) { return packaging.bodies[static_cast<std::size_t>(number)].name; };
  if (k < room.gaps().size()) return body(room.gaps()[k].body) + " – " + body(room.gaps()[k].other);
  const bike::KeptIn& kept = room.kept_in()[k - room.gaps().size()];
  return model.layout.mechanism.point_names[static_cast<std::size_t>(kept.point)];
}

}  // namespace trammel::objectives
