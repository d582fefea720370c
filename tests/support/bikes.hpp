// A whole bike around a mechanism, and its curves by name.
#pragma once

#include <stdexcept>
#include <string>

#include "bike/table.hpp"
#include "tests/support/builder.hpp"

namespace trammel::test {

inline int named(const std::vector<std::string>& names, const std::string& name) {
  for (std::size_t i = 0; i < names.size(); ++i)
    if (names[i] == name) return static_cast<int>(i);
  throw std::invalid_argument("nothing is called " + name);
}
inline int point_named(const linkage::Mechanism& m, const std::string& name) {
  return named(m.point_names, name);
}
inline int member_named(const linkage::Mechanism& m, const std::string& name) {
  std::vector<std::string> names;
  for (const linkage::Member& member : m.members) names.push_back(member.name);
  return named(names, name);
}
/// The last member that lists the point "axle": in the mechanisms of `every_topology` the one that carries the wheel.
inline int axle_carrier(const linkage::Mechanism& m) {
  const int axle = point_named(m, "axle");
  for (std::size_t k = m.members.size(); k-- > 0;)
    for (int p : m.members[k].points)
      if (p == axle) return static_cast<int>(k);
  throw std::invalid_argument("no member carries the axle");
}

/// A bike with invented, plausible numbers around a mechanism that has a point "axle".
inline bike::Layout bike_around(const linkage::Mechanism& mechanism) {
  bike::Layout layout;
  layout.title = "test bike";
  layout.rear_radius = 371.0;
  layout.front_radius = 371.0;
  layout.front = {{806.0, 30.0}, 64.8, 160.0, bike::ForkFollows::matched, 0.2, {}};
  layout.cg = {20.0, 1120.0, bike::CgFollows::frame};
  layout.drivetrain.gears = {{32, 18}, {32, 50}};
  layout.mechanism = mechanism;
  layout.axle = {point_named(mechanism, "axle"), axle_carrier(mechanism)};
  layout.brake_member = layout.axle.member;
  const linkage::Drive& drive = mechanism.drive;
  if (drive.kind == linkage::DriveKind::shock) {
    const auto a = static_cast<std::size_t>(drive.a), b = static_cast<std::size_t>(drive.b);
    layout.shock = bike::Shock{norm(mechanism.points[b] - mechanism.points[a]), drive.range, {}};
  }
  return layout;
}

/// A column of a table of curves, with all its values present.
inline std::vector<double> column(const bike::CurveTable& table, const std::string& name) {
  for (const bike::Column& c : table.columns) {
    if (c.name != name) continue;
    std::vector<double> values;
    for (const auto& v : c.values) values.push_back(v.value());
    return values;
  }
  throw std::invalid_argument("no column " + name);
}

}  // namespace trammel::test
