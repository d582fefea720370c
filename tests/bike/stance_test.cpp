// How a bike stands as drawn: against plain trigonometry of two circles on a line.
#include "bike/stance.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bike/geometry.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;

namespace {

const double pi = std::acos(-1.0);

bike::Layout level_bike() {
  return test::bike_around(test::every_topology()[2].second);
}

bike::Point turned(const bike::Point& p, double degrees) {
  const double c = std::cos(degrees * pi / 180.0), s = std::sin(degrees * pi / 180.0);
  return {c * p.x - s * p.y, s * p.x + c * p.y};
}

/// The whole drawing turned about the bottom bracket, counter-clockwise = front up.
bike::Layout turned(bike::Layout layout, double degrees) {
  for (bike::Point& p : layout.mechanism.points) p = turned(p, degrees);
  layout.front.axle = turned(layout.front.axle, degrees);
  layout.front.head_angle -= degrees;  // it leans back by as much
  return layout;
}

}  // namespace

TEST_CASE("a level drawing is level, and one turned as a whole is pitched by as much") {
  const bike::Layout level = level_bike();
  CHECK(bike::stance(level).turned == test::within(0.0, 1e-12));
  CHECK(bike::stance(level).front_higher == test::within(0.0, 1e-12));
  for (const double degrees : {-1.8, -0.05, 0.4, 7.0}) {
    CAPTURE(degrees);
    const bike::Layout drawn = turned(level, degrees);
    const bike::Stance s = bike::stance(drawn);
    CHECK(s.turned == test::within(degrees, 1e-10));
    // Wheels of one size: their axles are as far apart in height as their lowest points.
    CHECK(s.front_higher == test::within(s.wheelbase * std::sin(degrees * pi / 180.0), 1e-9));
    CHECK((std::abs(s.front_higher) > bike::level_slack(drawn)) == (std::abs(degrees) > 0.1));
    // On the ground it is the same bike.
    CHECK(bike::geometry_chart(drawn).front().head_angle == test::within(level.front.head_angle, 1e-9));
    CHECK(s.wheelbase == test::within(bike::stance(level).wheelbase, 1e-9));
  }
}

TEST_CASE("what it says to change makes it level") {
  bike::Layout drawn = level_bike();
  drawn.rear_radius = 354.0;  // a smaller wheel behind, and the axle left where it was
  const bike::Stance s = bike::stance(drawn);
  CHECK(s.front_higher == test::within(-17.0, 1e-12));
  bike::Layout front = drawn, rear = drawn;
  front.front.axle.y -= s.front_higher;
  CHECK(bike::stance(front).turned == test::within(0.0, 1e-12));
  rear.mechanism.points[static_cast<std::size_t>(rear.axle.point)].y += s.front_higher;
  CHECK(bike::stance(rear).turned == test::within(0.0, 1e-12));
  // Its sine is the difference of the radii over the distance of axles that lie level.
  const double apart = drawn.front.axle.x - drawn.mechanism.points[static_cast<std::size_t>(drawn.axle.point)].x;
  CHECK(s.turned == test::within(-std::asin(17.0 / apart) * 180.0 / pi, 1e-10));
}

TEST_CASE("a bike that faces left and tyres in one another are seen") {
  bike::Layout drawn = level_bike();
  CHECK_FALSE(bike::stance(drawn).rear_ahead);
  CHECK(bike::stance(drawn).between_tyres > 400.0);
  for (bike::Point& p : drawn.mechanism.points) p.x = -p.x;
  CHECK(bike::stance(drawn).rear_ahead);
  CHECK(bike::stance(drawn).between_tyres == test::within(bike::stance(drawn).wheelbase - 2 * 371.0, 1e-9));
  CHECK(bike::stance(drawn).between_tyres < 0.0);
}

TEST_CASE("a head angle that leans the wrong way shows in the fork's offset") {
  bike::Layout drawn = level_bike();
  CHECK_FALSE(bike::stance(drawn).fork_offset);
  // Down the steering axis from the top of the head tube, then 44 mm square to it, as a fork is made.
  const double angle = drawn.front.head_angle * pi / 180.0;
  const bike::Point down{std::cos(angle), -std::sin(angle)}, square{std::sin(angle), std::cos(angle)};
  drawn.front.head_tube = bike::HeadTube{drawn.front.axle - square * 44.0 - down * 670.0};
  CHECK(*bike::stance(drawn).fork_offset == test::within(44.0, 1e-9));
  drawn.front.head_tube->top.x = drawn.front.axle.x + 200.0;
  CHECK(*bike::stance(drawn).fork_offset < bike::least_fork_offset);
}

TEST_CASE("what a picture's reading leaves open is no fault of the drawing") {
  bike::Layout drawn = level_bike();
  CHECK(bike::level_slack(drawn) == bike::level_within);
  drawn.reading = 1.5;
  CHECK(bike::level_slack(drawn) == bike::level_within + 1.5);
}
