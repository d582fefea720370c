// Squat and rise of a bike that accelerates, by a library for the dynamics of rigid bodies (Simbody): wheel, members,
// frame with its rider, chain and brake as forces; of the kernel nothing but its figure. No spring and no weight: what
// moves the suspension is the drive or the brake alone.
#include <algorithm>
#include <catch2/catch.hpp>

#include "bike/sprocket.hpp"
#include "tests/reference/dynamics/rigid_bike.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/force_line.hpp"

using namespace trammel;
using test::Point;

namespace {

constexpr double sprung = 95.0;   // kg
constexpr double inertia = 11.0;  // kg·m², of frame and rider
constexpr double seconds = 0.25;
constexpr double metre = 1000.0;  // mm

struct Outcome {
  double travel = 0.0;   ///< of the rear wheel along the frame's y, mm
  double forward = 0.0;  ///< of the bike, m
};

Outcome pushed(const bike::Layout& layout, const test::Push& push) {
  const auto& m = layout.mechanism;
  const auto has = [&](const char* name) {
    return std::find(m.point_names.begin(), m.point_names.end(), name) != m.point_names.end();
  };
  const auto drawn = [&](const char* name) {
    return has(name) ? m.points[static_cast<std::size_t>(test::point_named(m, name))] : Point{0.0, 0.0};
  };
  const test::Road road(drawn("axle"), layout.front.axle, layout.rear_radius, layout.front_radius);
  const auto place = [&](const Point& p) -> test::Place {
    return {dot(p - road.rear, road.along) / metre, dot(p - road.rear, road.up) / metre};
  };
  const double y = (layout.cg.height - dot(Point{layout.cg.x, 0.0} - road.rear, road.up)) / road.up.y;
  test::RigidBike bike;
  bike.axle = place(drawn("axle"));
  bike.main = place(drawn("main"));
  bike.stay = place(drawn("stay"));
  bike.tail = place(drawn("tail"));
  bike.rocker = place(drawn("rocker"));
  bike.four_bar = has("tail");
  bike.front_axle = place(layout.front.axle);
  bike.mass_centre = place({layout.cg.x, y});
  bike.ring = place({0.0, 0.0});
  bike.rear_radius = layout.rear_radius / metre;
  bike.front_radius = layout.front_radius / metre;
  bike.cog_radius = bike::pitch_radius(layout.drivetrain.gears[0].cog) / metre;
  bike.ring_radius = bike::pitch_radius(layout.drivetrain.gears[0].chainring) / metre;
  bike.mass = sprung;
  bike.inertia = inertia;
  const test::Moved moved = test::accelerate(bike, push, seconds);
  const double travel = dot(Point{0, 1}, road.along) * moved.axle.x + dot(Point{0, 1}, road.up) * moved.axle.y;
  return {travel * metre, moved.forward};
}

bike::Layout on_wheels(const linkage::Mechanism& mechanism) {
  bike::Layout layout = test::bike_around(mechanism);
  layout.front.follows = bike::ForkFollows::extended;
  layout.rear_radius = 362.0;  // unlike the front, so that the ground does not lie along the frame's axes
  layout.drivetrain.gears = {{32, 24}};
  return layout;
}

std::vector<std::pair<std::string, bike::Layout>> bikes() {
  const auto all = test::every_topology();
  return {{"single pivot", on_wheels(all[0].second)}, {"four-bar", on_wheels(all[2].second)}};
}

double figure(const bike::Layout& layout, const std::string& column) {
  return test::column(bike::trace(layout, 2, false).table, column).front();
}

/// The bike with the centre of gravity so high that the kernel's figure is `share` %.
bike::Layout balanced(bike::Layout layout, const std::string& column, double share) {
  layout.cg.height *= figure(layout, column) / share;
  CHECK(figure(layout, column) == test::relative(share, 1e-9));
  return layout;
}

}  // namespace

TEST_CASE("under drive the suspension stays put at 100 % anti-squat, squats below and rises above") {
  const std::string column = "anti_squat_pct[32x24]";
  for (const auto& [name, layout] : bikes()) {
    INFO(name << ", " << figure(layout, column) << " % as drawn");
    const test::Push push{700.0, 0.0};
    const auto after = [&, &drawn = layout](double share) { return pushed(balanced(drawn, column, share), push); };
    const Outcome below = after(90.0), at = after(100.0), above = after(110.0);
    CHECK(below.travel > 0.05);
    CHECK(above.travel < -0.05);
    // What is left comes from the masses of the parts, a thousand-millionth of the rider's, and from the integration.
    CHECK(std::abs(at.travel) < 1e-5);
    // Nothing turns or rises, so the tyre's force moves the whole mass: x = F·t²/2m.
    const double force = push.tension * bike::pitch_radius(24) / layout.rear_radius;
    CHECK(at.forward == test::relative(0.5 * force / sprung * seconds * seconds, 1e-6));
  }
}

TEST_CASE("under the rear brake the suspension stays put at 100 % anti-rise, rises below and squats above") {
  const std::string column = "anti_rise_pct";
  for (const auto& [name, layout] : bikes()) {
    INFO(name << ", " << figure(layout, column) << " % as drawn");
    const auto after = [&, &drawn = layout](double share) {
      return pushed(balanced(drawn, column, share), {0.0, 60.0});
    };
    const Outcome below = after(90.0), at = after(100.0), above = after(110.0);
    CHECK(below.travel < -0.02);
    CHECK(above.travel > 0.02);
    CHECK(std::abs(at.travel) < 1e-5);
    CHECK(at.forward == test::relative(-0.5 * 60.0 / 0.362 / sprung * seconds * seconds, 1e-6));
  }
}
