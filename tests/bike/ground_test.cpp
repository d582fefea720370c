// Ground, fork and centre of gravity as the wheels move.
#include <catch2/catch.hpp>

#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/force_line.hpp"

using namespace trammel;
using test::Point;
using test::within;

namespace {

bike::Layout single_pivot() {
  return test::bike_around(test::every_topology().front().second);
}
Point axle_of(const bike::Layout& layout, const bike::Pose& pose) {
  return pose.points[static_cast<std::size_t>(layout.axle.point)];
}

}  // namespace

TEST_CASE("the ground touches both wheels from below, whichever wheel is larger") {
  for (const auto& [rear, front] : {std::pair{371.0, 371.0}, std::pair{353.0, 371.0}, std::pair{371.0, 340.0}}) {
    INFO("radii " << rear << ", " << front);
    bike::Layout layout = single_pivot();
    layout.rear_radius = rear;
    layout.front_radius = front;
    const bike::Motion motion = bike::trace(layout, 5, true);
    const auto wheelbase = test::column(motion.table, "wheelbase_mm"), pitch = test::column(motion.table, "pitch_deg"),
               bottom = test::column(motion.table, "bb_height_mm");
    for (std::size_t i = 0; i < motion.poses.size(); ++i) {
      const bike::Pose& pose = motion.poses[i];
      const Point axle = axle_of(layout, pose), up = perp(pose.ground);
      CHECK(norm(pose.ground) == within(1.0, 1e-14));
      // A radius at right angles to the ground, below each axle.
      CHECK(dot(pose.rear_contact - axle, pose.ground) == within(0.0, 1e-10));
      CHECK(dot(pose.rear_contact - axle, up) == within(-rear, 1e-10));
      CHECK(dot(pose.front_contact - pose.front_axle, pose.ground) == within(0.0, 1e-10));
      CHECK(dot(pose.front_contact - pose.front_axle, up) == within(-front, 1e-10));
      // Both contacts on one line along the ground.
      CHECK(cross(pose.ground, pose.front_contact - pose.rear_contact) == within(0.0, 1e-10));
      CHECK(wheelbase[i] == within(norm(pose.front_contact - pose.rear_contact), 1e-10));
      CHECK(bottom[i] == within(-dot(pose.rear_contact, up), 1e-10));
      // Drawn by angles.
      const test::Road road(axle, pose.front_axle, rear, front);
      CHECK(math::radians(pitch[i]) == within(-std::atan2(road.along.y, road.along.x), 1e-12));
    }
  }
}

TEST_CASE("pitch is positive with the front up") {
  // An extended fork while the rear sinks lifts the front of the frame.
  bike::Layout layout = single_pivot();
  layout.front.follows = bike::ForkFollows::extended;
  const auto pitch = test::column(bike::trace(layout, 4, false).table, "pitch_deg");
  CHECK(pitch.back() > pitch.front() + 1.0);
}

TEST_CASE("the fork follows the rear, stays extended, or stays at sag") {
  bike::Layout layout = single_pivot();
  const Point axis = math::unit(math::radians(180.0 - layout.front.head_angle));  // up the steering axis
  const auto compression = [&](const bike::Pose& pose) {
    const Point moved = pose.front_axle - layout.front.axle;
    CHECK(cross(axis, moved) == within(0.0, 1e-10));  // along the steering axis only
    return dot(axis, moved);
  };
  const auto poses = [&](bike::ForkFollows follows) {
    layout.front.follows = follows;
    return bike::trace(layout, 5, false).poses;
  };
  const auto matched = poses(bike::ForkFollows::matched);
  const double whole = matched.back().travel;
  for (const bike::Pose& pose : matched) CHECK(compression(pose) == within(160.0 * pose.travel / whole, 1e-10));
  for (const bike::Pose& pose : poses(bike::ForkFollows::extended)) CHECK(compression(pose) == within(0.0, 1e-12));
  for (const bike::Pose& pose : poses(bike::ForkFollows::at_sag)) CHECK(compression(pose) == within(32.0, 1e-12));
}

TEST_CASE("the centre of gravity is fixed to the frame, or keeps its height") {
  bike::Layout layout = single_pivot();
  const auto height_of = [&](bike::CgFollows follows) {
    layout.cg.follows = follows;
    const bike::Motion motion = bike::trace(layout, 6, false);
    return std::pair{motion, test::column(motion.table, "cg_height_mm")};
  };
  const auto [ground_motion, kept] = height_of(bike::CgFollows::ground);
  for (double h : kept) CHECK(h == 1120.0);
  const auto [motion, fixed] = height_of(bike::CgFollows::frame);
  CHECK(fixed.front() == within(1120.0, 1e-10));
  // The point of the frame with the given x and that height topped out, measured over each later ground.
  const bike::Pose& out = motion.poses.front();
  const Point up = perp(out.ground);
  const Point cg{20.0, (1120.0 - up.x * (20.0 - out.rear_contact.x)) / up.y + out.rear_contact.y};
  for (std::size_t i = 0; i < fixed.size(); ++i)
    CHECK(fixed[i] == within(dot(perp(motion.poses[i].ground), cg - motion.poses[i].rear_contact), 1e-9));
  CHECK(fixed.back() < fixed.front() - 10.0);
  // Both anti figures scale with the height alone.
  const auto rise_frame = test::column(motion.table, "anti_rise_pct");
  const auto rise_ground = test::column(ground_motion.table, "anti_rise_pct");
  CHECK(rise_frame.back() * fixed.back() == test::relative(rise_ground.back() * kept.back(), 1e-12));
}

TEST_CASE("head angle, reach, stack and trail") {
  bike::Layout layout = single_pivot();
  layout.front.head_tube = bike::HeadTube{{470.0, 640.0}};
  const bike::Motion motion = bike::trace(layout, 5, true);
  const auto values = [&](const char* name) { return test::column(motion.table, name); };
  const auto head = values("head_angle_deg"), reach = values("reach_mm"), stack = values("stack_mm"),
             trail = values("trail_mm"), pitch = values("pitch_deg");
  const Point top{470.0, 640.0};
  for (std::size_t i = 0; i < head.size(); ++i) {
    CHECK(head[i] == within(64.8 - pitch[i], 1e-11));
    // Turning axes by the pitch keeps lengths: reach and stack are the head tube's top in ground axes.
    CHECK(std::hypot(reach[i], stack[i]) == within(norm(top), 1e-10));
    CHECK(std::atan2(stack[i], reach[i]) == within(std::atan2(top.y, top.x) + math::radians(pitch[i]), 1e-12));
    // The trade's formula: trail = (R·cos HA − offset)/sin HA, offset = distance of the front axle before the steering
    // axis (common practice, no source).
    const Point down = math::unit(-math::radians(64.8));
    const double offset = cross(down, motion.poses[i].front_axle - top);
    const double angle = math::radians(head[i]);
    CHECK(trail[i] == within((layout.front_radius * std::cos(angle) - offset) / std::sin(angle), 1e-9));
  }
}
