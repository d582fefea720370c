// Loads at the tyre through the linkage: work, the force line on which nothing reaches the shock, and a floating
// caliper.
#include "bike/loads.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bike/sprocket.hpp"
#include "bike/table.hpp"
#include "bike/wheel_load.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/equilibrium.hpp"
#include "tests/support/rider.hpp"

using namespace trammel;
using bike::Point;

namespace {

bool has_shock(const bike::Layout& layout) {
  return layout.shock.has_value();
}

/// The forces of a case at a pose.
linkage::Forces<double> outside(const bike::Layout& layout, const bike::LoadCase& load, const bike::Pose& pose) {
  const bike::Model model = bike::make_model(layout);
  linkage::Forces<double> out;
  out.resize(model.program);
  const auto ground = bike::find_ground(pose.points[static_cast<std::size_t>(layout.axle.point)], pose.front_axle,
                                        layout.rear_radius, layout.front_radius);
  bike::put_load(model, load, ground, pose.points, out);
  return out;
}

/// What the members then carry, solved by their equilibrium.
test::Equilibrium by_members(const bike::Layout& layout, const bike::LoadCase& load, const bike::Pose& pose) {
  const linkage::Forces<double> forces = outside(layout, load, pose);
  return test::equilibrium(layout.mechanism, pose.points, {forces.outside, forces.couples});
}

/// A single pivot whose caliper sits on an arm that turns on the axle and is held by a rod from the frame.
bike::Layout with_floating_caliper() {
  const auto m = test::MechanismBuilder()
                     .point("main", 10, 80)
                     .point("axle", -435, 20)
                     .point("eye", -60, 190)
                     .point("mount", 140, 230)
                     .point("arm", -445, 130)
                     .point("rod", 15, 165)
                     .member("frame", {"main", "mount", "rod"})
                     .member("swingarm", {"main", "axle", "eye"})
                     .member("brake_arm", {"axle", "arm"})
                     .member("brake_rod", {"arm", "rod"})
                     .shock("mount", "eye", 55)
                     .build();
  bike::Layout layout = test::bike_around(m);
  layout.axle.member = test::member_named(m, "swingarm");
  layout.brake_member = test::member_named(m, "brake_arm");
  return layout;
}

}  // namespace

TEST_CASE("a vertical load reaches the shock as its work says") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    bike::Layout layout = test::bike_around(mechanism);
    if (!has_shock(layout)) continue;
    layout.loads.cases = {{"bump", 1800.0, 0.0, 0.0, -1}};
    const auto loads = bike::pivot_loads(layout, 7);
    REQUIRE(loads.size() == 1);
    test::Rider rider(layout);
    const bike::Motion motion = bike::trace(layout, 7, false);
    for (std::size_t i = 0; i < motion.poses.size(); ++i) {
      INFO(name << ", station " << i);
      rider.at(motion.poses[i].shock);
      const Point v = rider.sweep().state().velocity[static_cast<std::size_t>(layout.axle.point)];
      const Point normal{-motion.poses[i].ground.y, motion.poses[i].ground.x};
      const double expected = 1800.0 * dot(normal, v);
      CHECK(loads[0].shock_force[i] == test::within(expected, 1e-6));
    }
    CHECK(std::abs(loads[0].shock_force[loads[0].worst_shock]) >= std::abs(loads[0].shock_force.front()));
  }
}

TEST_CASE("along the line of anti-squat and of anti-rise nothing reaches the shock, and everything beside it does") {
  int compared = 0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    bike::Layout layout = test::bike_around(mechanism);
    if (!has_shock(layout)) continue;
    layout.drivetrain.gears = {{32, 24}};
    const bike::Motion motion = bike::trace(layout, 5, false);
    const auto squat = test::column(motion.table, "anti_squat_pct[32x24]"),
               rise = test::column(motion.table, "anti_rise_pct");
    const auto wheelbase = test::column(motion.table, "wheelbase_mm"),
               height = test::column(motion.table, "cg_height_mm");
    for (std::size_t i = 0; i < motion.poses.size(); ++i) {
      INFO(name << ", station " << i);
      const bike::Pose& pose = motion.poses[i];
      const auto shock_for = [&](const bike::LoadCase& load) { return by_members(layout, load, pose).drive; };
      const double force = 400.0;
      const double slope = squat[i] / 100.0 * height[i] / wheelbase[i];
      const bike::LoadCase drive{"drive", force * slope, 0.0, force, 0};
      const bike::LoadCase more{"more", force * slope + 100.0, 0.0, force, 0};
      // A force rearward along a line that rises forward points down.
      const double line = rise[i] / 100.0 * height[i] / wheelbase[i];
      const bike::LoadCase brake{"brake", -force * line, force, 0.0, -1};
      const double scale = 1e-8 * force * (1.0 + std::abs(slope) + std::abs(line)) * 10.0;
      CHECK(shock_for(drive) == test::within(0.0, scale));
      CHECK(shock_for(brake) == test::within(0.0, scale));
      CHECK(shock_for(more) > 50.0);
      ++compared;
    }
  }
  CHECK(compared >= 40);
}

TEST_CASE("a caliper on a floating arm brakes by the arm's own instant centre, and the rod carries the torque") {
  const bike::Layout layout = with_floating_caliper();
  const bike::Motion motion = bike::trace(layout, 5, false);
  const auto rise = test::column(motion.table, "anti_rise_pct");
  bike::Layout fixed = layout;
  fixed.brake_member = layout.axle.member;
  const auto on_swingarm = test::column(bike::trace(fixed, 5, false).table, "anti_rise_pct");
  for (std::size_t i = 0; i < motion.poses.size(); ++i) {
    const bike::Pose& pose = motion.poses[i];
    const auto at = [&](const char* name) {
      return pose.points[static_cast<std::size_t>(test::point_named(layout.mechanism, name))];
    };
    // Drawing board: the arm's centre is where the swingarm's line meets the rod's.
    const Point swing = at("axle") - at("main"), rod = at("arm") - at("rod");
    const double along = cross(at("rod") - at("main"), rod) / cross(swing, rod);
    const Point centre = at("main") + swing * along;
    const Point up{-pose.ground.y, pose.ground.x}, from = centre - pose.rear_contact;
    const double slope = dot(from, up) / dot(from, pose.ground);
    const double wheelbase = dot(pose.front_contact - pose.rear_contact, pose.ground);
    const double height = test::column(motion.table, "cg_height_mm")[i];
    CHECK(rise[i] == test::relative(100.0 * slope * wheelbase / height, 1e-9));
    CHECK(std::abs(rise[i] - on_swingarm[i]) > 10.0);

    // The rod is a member of two pins: its pull times its distance from the axle is the brake's torque.
    const bike::LoadCase stop{"stop", 0.0, 350.0, 0.0, -1};
    const test::Equilibrium carried = by_members(layout, stop, pose);
    for (const test::PinForce& pin : carried.pins) {
      if (pin.member != layout.brake_member || pin.point != test::point_named(layout.mechanism, "arm")) continue;
      CHECK(cross(at("arm") - at("axle"), pin.force) == test::relative(350.0 * layout.rear_radius, 1e-9));
    }
  }
}

TEST_CASE("the chain pulls wheel and idler as its tension says") {
  bike::Layout layout = with_floating_caliper();
  layout.mechanism.point_names.push_back("idler");
  layout.mechanism.points.push_back({-40, 120});
  layout.mechanism.members[1].points.push_back(static_cast<int>(layout.mechanism.points.size()) - 1);
  layout.drivetrain.idler = bike::Idler{16, static_cast<int>(layout.mechanism.points.size()) - 1, true};
  layout.drivetrain.gears = {{32, 20}};
  const bike::Pose pose = bike::pose_at_travel(layout, 30.0);
  const auto forces = outside(layout, {"climb", 0.0, 0.0, 300.0, 0}, pose).outside;
  const double tension = 300.0 * layout.rear_radius / bike::pitch_radius(20);
  const Point chain = forces[static_cast<std::size_t>(layout.axle.point)] - pose.ground * 300.0;
  CHECK(norm(chain) == test::relative(tension, 1e-12));
  // At the idler two equal pulls: the resultant halves the angle between the spans.
  const Point away = forces[static_cast<std::size_t>(layout.drivetrain.idler->point)] + chain;
  CHECK(norm(away) == test::relative(tension, 1e-12));
}

TEST_CASE("a pivot of two members is listed once, with its worst place") {
  bike::Layout layout = with_floating_caliper();
  layout.loads.cases = {{"bump", 2000.0, 0.0, 0.0, -1}, {"stop", 500.0, 400.0, 0.0, -1}};
  const auto all = bike::pivot_loads(layout, 9);
  REQUIRE(all.size() == 2);
  for (const bike::CaseLoads& load : all) {
    int mains = 0;
    for (const bike::PivotLoad& pivot : load.pivots) {
      if (pivot.point == test::point_named(layout.mechanism, "main")) ++mains;
      REQUIRE(pivot.force.size() == 9);
      for (const Point& force : pivot.force) CHECK(norm(force) <= norm(pivot.force[pivot.worst]));
    }
    CHECK(mains == 1);
  }
  layout.loads.cases.clear();
  CHECK(bike::pivot_loads(layout, 9).empty());
}

TEST_CASE("the curve of a pivot's force is the greatest that the members' equilibrium puts on any of them") {
  int compared = 0;
  for (const auto& [name, mechanism] : test::every_topology()) {
    bike::Layout layout = test::bike_around(mechanism);
    if (!has_shock(layout)) continue;
    layout.loads.cases = {
        {"bump", 2500.0, 0.0, 0.0, -1}, {"stop", 500.0, 350.0, 0.0, -1}, {"climb", 700.0, 0.0, 250.0, 1}};
    std::vector<bike::CurveKey> keys;
    for (const int pivot : linkage::pivots(mechanism))
      for (int load = 0; load < 3; ++load) keys.push_back({bike::Curve::pivot_force, -1, pivot, -1, load});
    const bike::Motion motion = bike::trace(layout, 4, false, keys);
    const auto loads = bike::pivot_loads(layout, 4);
    for (const bike::CurveKey& key : keys) {
      const bike::LoadCase& load = layout.loads.cases[static_cast<std::size_t>(key.load)];
      const bike::CaseLoads& told = loads[static_cast<std::size_t>(key.load)];
      const std::string& pivot = mechanism.point_names[static_cast<std::size_t>(key.a)];
      const bool eye = mechanism.drive.a == key.a || mechanism.drive.b == key.a;
      const auto values = test::column(motion.table, "pivot_force_n[" + pivot + " " + load.name + "]");
      for (std::size_t i = 0; i < motion.poses.size(); ++i) {
        INFO(name << ", " << pivot << ", " << load.name << ", station " << i);
        const test::Equilibrium by = by_members(layout, load, motion.poses[i]);
        double greatest = 0.0, scale = 0.0;
        int members = 0;
        for (const test::PinForce& pin : by.pins) {
          scale = std::max(scale, norm(pin.force));
          if (pin.point != key.a) continue;
          greatest = std::max(greatest, norm(pin.force));
          ++members;
        }
        CHECK(values[i] == test::within(greatest, 1e-9 * scale));
        // An eye on one member takes what the shock has: by virtual work the wheel's force times the leverage.
        if (eye && members == 1) CHECK(values[i] == test::within(std::abs(told.shock_force[i]), 1e-9 * scale));
        double reported = 0.0;
        for (const bike::PivotLoad& one : told.pivots)
          if (one.point == key.a) reported = std::max(reported, norm(one.force[i]));
        CHECK(reported == test::within(values[i], 1e-9 * scale));
        ++compared;
      }
    }
  }
  CHECK(compared > 400);
}

TEST_CASE("an axle that slides on a member: its pin takes the rail and the wheel, not only the sum of both") {
  const auto mechanism = test::MechanismBuilder()
                             .point("main", 5, 60)
                             .point("near", -380, 40)
                             .point("far", -480, 20)
                             .point("axle", -430, 30)
                             .point("high", -60, 300)
                             .point("eye", -70, 180)
                             .point("mount", 140, 230)
                             .member("frame", {"main", "high", "mount"})
                             .member("swingarm", {"main", "near", "far", "eye"})
                             .member("stay", {"high", "axle"})
                             .slider("axle", "swingarm", "near", "far")
                             .shock("mount", "eye", 40)
                             .build();
  bike::Layout layout = test::bike_around(mechanism);
  layout.loads.cases = {{"bump", 2500.0, 0.0, 0.0, -1}, {"climb", 700.0, 0.0, 250.0, 1}};
  std::vector<bike::CurveKey> keys;
  for (int load = 0; load < 2; ++load) keys.push_back({bike::Curve::pivot_force, -1, layout.axle.point, -1, load});
  const bike::Motion motion = bike::trace(layout, 4, false, keys);
  const auto loads = bike::pivot_loads(layout, 4);
  for (int load = 0; load < 2; ++load) {
    const bike::LoadCase& given = layout.loads.cases[static_cast<std::size_t>(load)];
    const bike::CaseLoads& told = loads[static_cast<std::size_t>(load)];
    const auto values = test::column(motion.table, "pivot_force_n[axle " + given.name + "]");
    const auto wheel = std::find_if(told.pivots.begin(), told.pivots.end(),
                                    [](const auto& pivot) { return pivot.member == bike::PivotLoad::wheel; });
    REQUIRE(wheel != told.pivots.end());
    for (std::size_t i = 0; i < motion.poses.size(); ++i) {
      INFO(given.name << ", station " << i);
      const test::Equilibrium by = by_members(layout, given, motion.poses[i]);
      const Point pressed =
          outside(layout, given, motion.poses[i]).outside[static_cast<std::size_t>(layout.axle.point)];
      double stay = 0.0;
      for (const test::PinForce& pin : by.pins)
        if (pin.point == layout.axle.point) stay = norm(pin.force);
      const double rail = std::abs(by.shoes[0]), greatest = std::max({stay, rail, norm(pressed)});
      CHECK(values[i] == test::relative(greatest, 1e-9));
      CHECK(norm(wheel->force[i] + pressed) < 1e-9 * greatest);
      if (load == 0) CHECK(stay < 0.9 * greatest);  // what it feels is much less than what the pin takes
    }
  }
}
