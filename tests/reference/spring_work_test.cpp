// Power and energy: what the wheel does is what the spring takes, for every kind of spring and every topology.
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>

#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/rider.hpp"

using namespace trammel;
using bike::Curve;

namespace {

std::vector<std::pair<std::string, spring::Spring>> springs(double stroke) {
  spring::Air air;
  air.bore = 42.0;
  air.shaft = 9.0;
  air.positive = 1.9 * 3.1416 * 21.0 * 21.0 * stroke / 1000.0;
  air.negative = 30.0;
  air.transfer = 0.1 * stroke;
  air.pressure = 11.0;
  air.exponent = 1.35;
  spring::Spring stopped{spring::Coil{75.0, 2.0}};
  stopped.bump_stop = spring::BumpStop{0.2 * stroke, 2500.0};
  return {{"coil", spring::Coil{80.0, 1.0}},
          {"air", air},
          {"table",
           spring::Table({{0, 40}, {0.2 * stroke, 500}, {0.5 * stroke, 1300}, {0.8 * stroke, 2500}, {stroke, 4800}})},
          {"coil with a bump stop", stopped}};
}

}  // namespace

TEST_CASE("wheel force times its travel is shock force times its own, and both add up to the spring's energy") {
  int bikes = 0;
  for (const auto& [topology, mechanism] : test::every_topology()) {
    if (mechanism.drive.kind != linkage::DriveKind::shock) continue;
    ++bikes;
    for (const auto& [kind, spring] : springs(mechanism.drive.range)) {
      bike::Layout layout = test::bike_around(mechanism);
      layout.shock->spring = spring;
      test::Rider rider(layout);
      const double stroke = rider.range();
      for (const double part : {0.05, 0.3, 0.7, 1.0}) {
        INFO(topology << ", " << kind << ", at " << part);
        const auto& v = rider.at(part * stroke);
        CHECK(v[Curve::wheel_force] * v[Curve::leverage] == test::relative(v[Curve::shock_force], 1e-12));
      }
      // ∫Fw dz with dz = leverage·dc, by another library's quadrature; a bump stop's start and a table's readings are
      // kinks of the second derivative, so the stretches between them are integrated one by one.
      double work = 0.0;
      const double kinks[] = {0.0, 0.2, 0.5, 0.8, 1.0};
      for (int i = 0; i < 4; ++i)
        work += boost::math::quadrature::gauss_kronrod<double, 15>::integrate(
            [&](double c) {
              const auto& v = rider.at(c);
              return v[Curve::wheel_force] * v[Curve::leverage];
            },
            kinks[i] * stroke, kinks[i + 1] * stroke, 5, 1e-12);
      INFO(topology << ", " << kind);
      CHECK(rider.curve(stroke, Curve::energy) == test::relative(1e-3 * work, 1e-10));
      CHECK(rider.curve(0.0, Curve::energy_to_bottom) == test::relative(1e-3 * work, 1e-10));
      CHECK(rider.curve(stroke, Curve::energy_to_bottom) == test::within(0.0, 1e-9));
      CHECK(rider.curve(0.0, Curve::energy) == test::within(0.0, 1e-12));
    }
  }
  CHECK(bikes >= 9);
}

TEST_CASE("wheel rate is the slope of wheel force over travel, for every kind of spring") {
  const auto mechanism = test::every_topology()[1].second;
  for (const auto& [kind, spring] : springs(mechanism.drive.range)) {
    bike::Layout layout = test::bike_around(mechanism);
    layout.shock->spring = spring;
    test::Rider rider(layout);
    for (const double part : {0.1, 0.45, 0.9}) {
      INFO(kind << " at " << part);
      const double c = part * rider.range(), h = 1e-4;
      const auto force = [&](double s) { return rider.curve(s, Curve::wheel_force); };
      const auto travel = [&](double s) { return rider.curve(s, Curve::travel); };
      const double slope = (force(c + h) - force(c - h)) / (travel(c + h) - travel(c - h));
      // Central differences over 0.1 µm: truncation ~ h², rounding ~ 1e-12·F/h.
      CHECK(rider.curve(c, Curve::wheel_rate) == test::relative(slope, 1e-6));
    }
  }
}

TEST_CASE("two parallel links: no instant centre, and the force line is parallel to them") {
  // A parallelogram: the axle's member moves without turning. Levels of the links differ, their direction does not.
  const auto m = test::MechanismBuilder()
                     .point("low", -10, 60)
                     .point("lowend", -110, 85)
                     .point("high", 0, 180)
                     .point("highend", -100, 205)
                     .point("axle", -437, 28)
                     .point("eye", -50, 330)
                     .point("mount", 140, 300)
                     .member("frame", {"low", "high", "mount"})
                     .member("lower", {"low", "lowend"})
                     .member("upper", {"high", "highend", "eye"})
                     .member("rear", {"lowend", "highend", "axle"})
                     .shock("mount", "eye", 20)
                     .build();
  const bike::Layout layout = test::bike_around(m);
  const bike::Motion motion = bike::trace(layout, 9, true);
  const bike::Column* centre = motion.table.find({Curve::ic_x, -1});
  REQUIRE(centre != nullptr);
  const auto rise = test::column(motion.table, "anti_rise_pct"), height = test::column(motion.table, "cg_height_mm"),
             wheelbase = test::column(motion.table, "wheelbase_mm");
  for (std::size_t i = 0; i < motion.poses.size(); ++i) {
    INFO("station " << i);
    CHECK_FALSE(centre->values[i]);
    const bike::Pose& pose = motion.poses[i];
    const bike::Point link = pose.points[0] - pose.points[1];
    const bike::Point up{-pose.ground.y, pose.ground.x};
    const double slope = dot(link, up) / dot(link, pose.ground);
    CHECK(rise[i] == test::relative(100.0 * slope * wheelbase[i] / height[i], 1e-9));
    CHECK(std::abs(cross(pose.ic_direction, link)) < 1e-9 * norm(link));
  }
}
