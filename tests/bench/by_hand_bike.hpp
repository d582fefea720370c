// The numbers of a bike and the points of a four-bar, handed to the routine written by hand.
#pragma once

#include "bike/layout.hpp"
#include "tests/reference/four_bar_by_hand.hpp"
#include "tests/support/bikes.hpp"

namespace trammel::test {

inline constexpr std::size_t by_hand_stations = 41;

/// `Gears` is the number of the layout's gears. The fork must follow the wheel.
template <std::size_t Gears>
by_hand::Bike<Gears> by_hand_bike(const bike::Layout& layout) {
  if (layout.drivetrain.gears.size() != Gears || layout.front.follows != bike::ForkFollows::matched || !layout.shock ||
      layout.cg.follows != bike::CgFollows::frame || layout.drivetrain.idler)
    throw std::invalid_argument("not a bike that the routine written by hand knows");
  const double turn = std::acos(-1.0), head = layout.front.head_angle * turn / 180.0;
  by_hand::Bike<Gears> bike{};
  bike.rear_radius = layout.rear_radius;
  bike.front_radius = layout.front_radius;
  bike.front_x = layout.front.axle.x;
  bike.front_y = layout.front.axle.y;
  bike.steer_x = -std::cos(head);
  bike.steer_y = std::sin(head);
  bike.fork_travel = layout.front.travel;
  bike.cg_x = layout.cg.x;
  bike.cg_height = layout.cg.height;
  bike.stroke = layout.shock->stroke;
  for (std::size_t g = 0; g < Gears; ++g) {
    // Half a pitch over the sine of half the angle of a tooth (ISO 606).
    bike.cog[g] = 12.7 / 2.0 / std::sin(turn / layout.drivetrain.gears[g].cog);
    bike.ring[g] = 12.7 / 2.0 / std::sin(turn / layout.drivetrain.gears[g].chainring);
  }
  return bike;
}

/// `points` are those of a mechanism whose points carry the names of the shipped trail brief.
inline by_hand::Pivots<double> by_hand_pivots(const linkage::Mechanism& m, const std::vector<linkage::Point>& points) {
  const auto at = [&](const char* name) {
    const linkage::Point& p = points[static_cast<std::size_t>(point_named(m, name))];
    return by_hand::Complex<double>{p.x, p.y};
  };
  return {at("main"), at("stay"), at("axle"), at("tail"), at("rocker"), at("eye"), at("mount")};
}

}  // namespace trammel::test
