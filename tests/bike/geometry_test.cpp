// The geometry chart: the frame turned as a whole, and the fork at its own sag.
#include "bike/geometry.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bike/table.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

namespace {

bike::Layout charted() {
  bike::Layout layout = test::bike_around(test::every_topology()[2].second);
  layout.front.head_tube = bike::HeadTube{{470.0, 630.0}};
  layout.seat_angle = 76.5;
  layout.sag = {0.3, bike::SagOf::shock};
  layout.front.sag = 0.2;
  return layout;
}

}  // namespace

TEST_CASE("seat and head angle turn together, and every line is what the curves say there") {
  const bike::Layout layout = charted();
  const auto rows = bike::geometry_chart(layout);
  REQUIRE(rows.size() == 7);
  const bike::Motion motion = bike::trace(layout, 11, true);
  const auto head = test::column(motion.table, "head_angle_deg"), seat = test::column(motion.table, "seat_angle_deg"),
             pitch = test::column(motion.table, "pitch_deg"), reach = test::column(motion.table, "reach_mm");
  for (std::size_t i = 0; i < head.size(); ++i) {
    CHECK(seat[i] - head[i] == test::within(76.5 - 64.8, 1e-10));
    // A frame that pitches up lays both back.
    CHECK(seat[i] == test::within(76.5 - pitch[i], 1e-10));
  }
  CHECK(rows.front().head_angle == test::within(head.front(), 1e-9));
  CHECK(*rows.front().reach == test::within(reach.front(), 1e-9));
  CHECK(rows.back().head_angle == test::within(head.back(), 1e-9));
  CHECK(*rows.back().seat_angle == test::within(seat.back(), 1e-9));
  // Sag of the shock's stroke: three of ten stations.
  CHECK(rows[1].head_angle == test::within(head[3], 1e-9));
  CHECK(rows[1].travel == test::within(test::column(motion.table, "travel_mm")[3], 1e-9));
}

TEST_CASE("with the fork at its own sag the frame stands as two points on the ground say") {
  const bike::Layout layout = charted();
  const auto rows = bike::geometry_chart(layout);
  const bike::GeometryRow& seated = rows[2];
  CHECK(seated.place == "rear at sag, fork at its sag");
  CHECK(seated.fork == test::within(0.2 * 160.0, 1e-12));
  const bike::Pose pose = bike::pose_at_travel(layout, seated.travel);
  const auto rear = pose.points[static_cast<std::size_t>(layout.axle.point)];
  const double angle = 64.8 * std::acos(-1.0) / 180.0;
  const bike::Point front = layout.front.axle + bike::Point{-std::cos(angle), std::sin(angle)} * 32.0;
  // Wheels of one size: the ground is parallel to the line of the axles.
  const double tilt = std::atan2(front.y - rear.y, front.x - rear.x) * 180.0 / std::acos(-1.0);
  CHECK(seated.head_angle == test::within(64.8 + tilt, 1e-9));
  CHECK(*seated.seat_angle == test::within(76.5 + tilt, 1e-9));
  CHECK(seated.wheelbase == test::within(std::hypot(front.x - rear.x, front.y - rear.y), 1e-9));

  bike::Layout plain = layout;
  plain.front.sag = 0.0;
  plain.seat_angle.reset();
  plain.front.head_tube.reset();
  const auto fewer = bike::geometry_chart(plain);
  CHECK(fewer.size() == 6);
  CHECK_FALSE(fewer[0].seat_angle);
  CHECK_FALSE(fewer[0].reach);
}
