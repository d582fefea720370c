// What a layout file becomes.
#include <catch2/catch.hpp>
#include <cmath>

#include "brief/read.hpp"
#include "corpus.hpp"
#include "tests/support/tree.hpp"

namespace trammel::test {
namespace {

bike::Layout layout_of(const std::string& text) {
  const auto reading = brief::read_text(text, "dir/some bike.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  return reading.brief.layout;
}

bike::Layout shipped(const std::string& name) {
  const auto reading = brief::read_file(test::in_tree("configs/layouts/" + std::string(name)));
  INFO(reading.message());
  REQUIRE(reading.ok());
  return reading.brief.layout;
}

const std::string shock_line = "shock: { between: [mount, eye], length: 230, stroke: 57.5 }";

TEST_CASE("a four-bar with everything") {
  const auto layout = shipped("workshop-trail.yaml");
  CHECK(layout.title == "Workshop trail bike");
  CHECK(layout.rear_radius == 371.0);
  CHECK(layout.front_radius == 371.0);
  CHECK(layout.front.axle.x == 806.0);
  CHECK(layout.front.axle.y == 30.0);
  CHECK(layout.front.head_angle == 64.8);
  CHECK(layout.front.travel == 160.0);
  CHECK(layout.front.follows == bike::ForkFollows::matched);
  CHECK_FALSE(layout.front.head_tube);
  CHECK(layout.cg.x == 20.0);
  CHECK(layout.cg.height == 1120.0);
  REQUIRE(layout.mass);
  CHECK(layout.mass->rider == 78.0);
  CHECK(layout.mass->bike == 15.0);
  CHECK(layout.mass->rear_unsprung == 4.0);
  CHECK(layout.mass->front_unsprung == 3.0);
  REQUIRE(layout.drivetrain.gears.size() == 3);
  CHECK(layout.drivetrain.gears[2].name() == "32x50");
  CHECK_FALSE(layout.drivetrain.idler);

  const auto& mechanism = layout.mechanism;
  CHECK(mechanism.point_names == std::vector<std::string>{"main", "stay", "axle", "tail", "rocker", "eye", "mount"});
  CHECK(mechanism.points[3].x == -160.0);
  CHECK(mechanism.points[3].y == 350.5);
  REQUIRE(mechanism.members.size() == 4);
  CHECK(mechanism.frame == 0);
  CHECK(mechanism.members[2].name == "seatstay");
  CHECK(mechanism.members[2].points == std::vector<int>{1, 2, 3});
  CHECK(mechanism.drive.kind == linkage::DriveKind::shock);
  CHECK(mechanism.drive.a == 6);
  CHECK(mechanism.drive.b == 5);
  CHECK_FALSE(mechanism.drive.extends);
  CHECK(mechanism.drive.range == 57.5);
  CHECK(layout.axle.point == 2);
  CHECK(layout.axle.member == 2);
  CHECK(layout.brake_member == 2);
  REQUIRE(layout.shock);
  CHECK(layout.shock->length == 230.0);
  REQUIRE(layout.shock->spring);
  const auto* coil = std::get_if<spring::Coil>(&layout.shock->spring->kind);
  REQUIRE(coil != nullptr);
  CHECK(coil->rate == 80.0);
  CHECK(coil->preload == 1.0);
  CHECK(layout.sag.fraction == 0.3);
  CHECK(layout.sag.of == bike::SagOf::wheel);
}

TEST_CASE("words that change how a layout is measured") {
  const auto layout = shipped("linkage-single-pivot.yaml");
  CHECK(layout.front.follows == bike::ForkFollows::at_sag);
  CHECK(layout.front.sag == 0.2);
  CHECK(layout.cg.follows == bike::CgFollows::ground);
  CHECK(layout.sag.of == bike::SagOf::shock);
}

TEST_CASE("wheel radius from rim and tyre") {
  // ISO 5775-1 names a tyre by its section and the rim's bead-seat diameter, so the wheel stands the section's height
  // above half that diameter: 60-622 gives 311 + 60.
  const auto layout = shipped("single-pivot.yaml");
  CHECK(layout.front_radius == 371.0);
  CHECK(layout.rear_radius == 352.0);
}

TEST_CASE("front axle from reach, stack and fork") {
  const auto layout = shipped("single-pivot.yaml");
  REQUIRE(layout.front.head_tube);
  const auto top = layout.front.head_tube->top;
  CHECK(top.x == 475.0);
  CHECK(top.y == 610.0);
  // Seen from the top of the head tube, the axle's distance and slope fix the answer without the reader's own formula:
  // legs 660 and 44 at a right angle, and the steering axis 64.8° below the horizontal.
  const double dx = layout.front.axle.x - top.x, dy = layout.front.axle.y - top.y;
  CHECK(std::hypot(dx, dy) == Approx(std::sqrt(660.0 * 660.0 + 44.0 * 44.0)).epsilon(1e-12));
  const double degrees = 180.0 / std::acos(-1.0);
  CHECK(-std::atan2(dy, dx) * degrees == Approx(64.8 - std::atan2(44.0, 660.0) * degrees).epsilon(1e-12));
}

TEST_CASE("a vertical steering axis puts the axle straight below, ahead by the offset") {
  const auto text = edited(base_text("layout"), "head_angle: 64.8", "head_angle: 90");
  const auto axle = layout_of(text).front.axle;
  CHECK(axle.x == Approx(475.0 + 44.0));
  CHECK(axle.y == Approx(610.0 - 660.0));
}

TEST_CASE("axle beside reach and stack keeps both") {
  const auto text = edited(base_text("brief"), "axle: [806, 30]", "axle: [800, 31]");
  const auto reading = brief::read_text(text, "x.yaml");
  REQUIRE(reading.ok());
  CHECK(reading.brief.layout.front.axle.x == 800.0);
  REQUIRE(reading.brief.layout.front.head_tube);
  CHECK(reading.brief.layout.front.head_tube->top.x == 475.0);
}

TEST_CASE("what a layout leaves out") {
  const auto text = edited(base_text("layout"), "title: Plain single pivot\n", "");
  const auto layout = layout_of(text);
  CHECK(layout.title == "some bike");
  CHECK(layout.front.follows == bike::ForkFollows::matched);
  CHECK(layout.cg.follows == bike::CgFollows::frame);
  CHECK_FALSE(layout.mass);
  CHECK_FALSE(layout.shock->spring);
  CHECK(layout.brake_member == layout.axle.member);
  CHECK(layout.sag.fraction == bike::Sag{}.fraction);
  CHECK(layout.sag.of == bike::SagOf::wheel);
}

TEST_CASE("a linkage without a shock") {
  const auto by_travel = layout_of(edited(base_text("layout"), shock_line, "drive: { travel: 150 }"));
  CHECK_FALSE(by_travel.shock);
  CHECK(by_travel.mechanism.drive.kind == linkage::DriveKind::travel);
  CHECK(by_travel.mechanism.drive.point == by_travel.axle.point);
  CHECK(by_travel.mechanism.drive.range == 150.0);

  const auto by_turn = layout_of(edited(base_text("layout"), shock_line, "drive: { member: swingarm, turn: -45 }"));
  CHECK(by_turn.mechanism.drive.kind == linkage::DriveKind::turn);
  CHECK(by_turn.mechanism.drive.member == 1);
  CHECK(by_turn.mechanism.drive.range == Approx(-std::atan(1.0)));
}

TEST_CASE("sliders, idler and a shock that extends") {
  auto text = edited(base_text("layout"), "    mount: [176.5, 271.9]\n",
                     "    mount: [176.5, 271.9]\n    ra: [0, 300]\n    rb: [10, 400]\n    shoe: [5, 350]\n");
  text = edited(text, "frame: [pivot, mount]", "frame: [pivot, mount, ra, rb]\n    rod: [axle, shoe]");
  text = edited(text, "  axle: {", "  sliders: [ { point: shoe, member: frame, along: [ra, rb] } ]\n  axle: {");
  text = edited(text, "gears: [18, 28, 50]", "gears: [18]\n  idler: { teeth: 16, point: eye, run: under }");
  text = edited(text, "stroke: 57.5", "stroke: 300, extends: true");
  const auto layout = layout_of(text);
  REQUIRE(layout.mechanism.sliders.size() == 1);
  const auto& slider = layout.mechanism.sliders.front();
  CHECK(slider.point == 6);
  CHECK(slider.member == 0);
  CHECK(slider.along_a == 4);
  CHECK(slider.along_b == 5);
  REQUIRE(layout.drivetrain.idler);
  CHECK(layout.drivetrain.idler->teeth == 16);
  CHECK(layout.drivetrain.idler->point == 2);
  CHECK_FALSE(layout.drivetrain.idler->over);
  CHECK(layout.mechanism.drive.extends);
}

}  // namespace
}  // namespace trammel::test
