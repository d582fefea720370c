// A layout that is written and read again is the same layout, bit for bit.
#include <catch2/catch.hpp>
#include <numbers>

#include "brief/read.hpp"
#include "fixture.hpp"
#include "report/write.hpp"

using namespace trammel;

namespace {

bike::Layout again(const bike::Layout& layout) {
  const std::string yaml = report::layout_yaml(layout);
  const auto reading = brief::read_text(yaml, "layout.yaml");
  INFO(yaml << reading.message());
  REQUIRE(reading.ok());
  return reading.brief.layout;
}

void check_same_point(const bike::Point& a, const bike::Point& b) {
  CHECK(a.x == b.x);
  CHECK(a.y == b.y);
}

void check_same(const spring::Spring& a, const spring::Spring& b) {
  REQUIRE(a.kind.index() == b.kind.index());
  // Every number of a spring is in its force somewhere; equal bits at many places are equal springs.
  for (double c = 0.0; c <= 57.5; c += 1.7) {
    CHECK(a.force(c) == b.force(c));
    CHECK(a.force(c, spring::Pace::set_up) == b.force(c, spring::Pace::set_up));
  }
  CHECK(a.breakaway == b.breakaway);
}

void check_same(const bike::Layout& a, const bike::Layout& b) {
  CHECK(a.title == b.title);
  CHECK(a.rear_radius == b.rear_radius);
  CHECK(a.front_radius == b.front_radius);
  check_same_point(a.front.axle, b.front.axle);
  CHECK(a.front.head_angle == b.front.head_angle);
  CHECK(a.front.travel == b.front.travel);
  CHECK(a.front.follows == b.front.follows);
  if (a.front.follows == bike::ForkFollows::at_sag) CHECK(a.front.sag == b.front.sag);
  REQUIRE(a.front.head_tube.has_value() == b.front.head_tube.has_value());
  if (a.front.head_tube) {
    check_same_point(a.front.head_tube->top, b.front.head_tube->top);
    CHECK(a.front.head_tube->length == b.front.head_tube->length);
  }
  CHECK(a.cg.x == b.cg.x);
  CHECK(a.cg.height == b.cg.height);
  CHECK(a.cg.follows == b.cg.follows);
  REQUIRE(a.mass.has_value() == b.mass.has_value());
  if (a.mass) {
    CHECK(a.mass->rider == b.mass->rider);
    CHECK(a.mass->bike == b.mass->bike);
    CHECK(a.mass->rear_unsprung == b.mass->rear_unsprung);
    CHECK(a.mass->front_unsprung == b.mass->front_unsprung);
  }
  REQUIRE(a.drivetrain.gears.size() == b.drivetrain.gears.size());
  for (std::size_t i = 0; i < a.drivetrain.gears.size(); ++i) {
    CHECK(a.drivetrain.gears[i].name() == b.drivetrain.gears[i].name());
  }
  REQUIRE(a.drivetrain.roller.has_value() == b.drivetrain.roller.has_value());
  if (a.drivetrain.roller) {
    CHECK(a.drivetrain.roller->teeth == b.drivetrain.roller->teeth);
    CHECK(a.drivetrain.roller->point == b.drivetrain.roller->point);
    CHECK(a.drivetrain.roller->over == b.drivetrain.roller->over);
  }
  REQUIRE(a.drivetrain.idler.has_value() == b.drivetrain.idler.has_value());
  if (a.drivetrain.idler) {
    CHECK(a.drivetrain.idler->teeth == b.drivetrain.idler->teeth);
    CHECK(a.drivetrain.idler->point == b.drivetrain.idler->point);
    CHECK(a.drivetrain.idler->over == b.drivetrain.idler->over);
  }
  const auto &m = a.mechanism, &n = b.mechanism;
  CHECK(m.point_names == n.point_names);
  REQUIRE(m.points.size() == n.points.size());
  for (std::size_t i = 0; i < m.points.size(); ++i) check_same_point(m.points[i], n.points[i]);
  REQUIRE(m.members.size() == n.members.size());
  for (std::size_t i = 0; i < m.members.size(); ++i) {
    CHECK(m.members[i].name == n.members[i].name);
    CHECK(m.members[i].points == n.members[i].points);
  }
  CHECK(m.frame == n.frame);
  REQUIRE(m.sliders.size() == n.sliders.size());
  for (std::size_t i = 0; i < m.sliders.size(); ++i) {
    CHECK(m.sliders[i].point == n.sliders[i].point);
    CHECK(m.sliders[i].member == n.sliders[i].member);
    CHECK(m.sliders[i].along_a == n.sliders[i].along_a);
    CHECK(m.sliders[i].along_b == n.sliders[i].along_b);
  }
  CHECK(m.drive.kind == n.drive.kind);
  CHECK(m.drive.a == n.drive.a);
  CHECK(m.drive.b == n.drive.b);
  CHECK(m.drive.extends == n.drive.extends);
  CHECK(m.drive.member == n.drive.member);
  CHECK(m.drive.range == n.drive.range);
  CHECK(a.axle.point == b.axle.point);
  CHECK(a.axle.member == b.axle.member);
  CHECK(a.brake_member == b.brake_member);
  REQUIRE(a.shock.has_value() == b.shock.has_value());
  if (a.shock) {
    CHECK(a.shock->length == b.shock->length);
    CHECK(a.shock->stroke == b.shock->stroke);
    REQUIRE(a.shock->spring.has_value() == b.shock->spring.has_value());
    if (a.shock->spring) check_same(*a.shock->spring, *b.shock->spring);
  }
  CHECK(a.seat_angle == b.seat_angle);
  CHECK(a.kind == b.kind);
  CHECK(a.front.sag == b.front.sag);
  CHECK(a.drivetrain.cassette == b.drivetrain.cassette);
  CHECK(a.drivetrain.clear_of == b.drivetrain.clear_of);
  CHECK(a.set_up.riders == b.set_up.riders);
  CHECK(a.set_up.coil_rates == b.set_up.coil_rates);
  CHECK(a.set_up.pressures == b.set_up.pressures);
  CHECK(a.set_up.most_spacers == b.set_up.most_spacers);
  CHECK(a.set_up.sag_tolerance == b.set_up.sag_tolerance);
  CHECK(a.loads.landing == b.loads.landing);
  REQUIRE(a.loads.cases.size() == b.loads.cases.size());
  for (std::size_t i = 0; i < a.loads.cases.size(); ++i) {
    const auto &x = a.loads.cases[i], &y = b.loads.cases[i];
    CHECK(x.name == y.name);
    CHECK(x.vertical == y.vertical);
    CHECK(x.braking == y.braking);
    CHECK(x.driving == y.driving);
    CHECK(x.gear == y.gear);
  }
  REQUIRE(a.settings.size() == b.settings.size());
  for (std::size_t i = 0; i < a.settings.size(); ++i) {
    const auto &x = a.settings[i], &y = b.settings[i];
    CHECK(x.name == y.name);
    REQUIRE(x.moves.size() == y.moves.size());
    for (std::size_t move = 0; move < x.moves.size(); ++move) {
      CHECK(x.moves[move].first == y.moves[move].first);
      check_same_point(x.moves[move].second, y.moves[move].second);
    }
    REQUIRE(x.shock.has_value() == y.shock.has_value());
    if (x.shock) CHECK(std::pair(x.shock->length, x.shock->stroke) == std::pair(y.shock->length, y.shock->stroke));
    CHECK(x.rear_radius == y.rear_radius);
  }
  REQUIRE(a.sizes.size() == b.sizes.size());
  for (std::size_t i = 0; i < a.sizes.size(); ++i) {
    const auto &x = a.sizes[i], &y = b.sizes[i];
    CHECK(x.name == y.name);
    REQUIRE(x.front.has_value() == y.front.has_value());
    if (x.front) {
      check_same_point(x.front->axle, y.front->axle);
      CHECK(x.front->head_angle == y.front->head_angle);
      CHECK(x.front->travel == y.front->travel);
      REQUIRE(x.front->head_tube.has_value() == y.front->head_tube.has_value());
      if (x.front->head_tube) {
        check_same_point(x.front->head_tube->top, y.front->head_tube->top);
        CHECK(x.front->head_tube->length == y.front->head_tube->length);
      }
    }
    CHECK(x.chainstay == y.chainstay);
    CHECK(x.riders == y.riders);
    REQUIRE(x.cg.has_value() == y.cg.has_value());
    if (x.cg) CHECK(std::pair(x.cg->x, x.cg->height) == std::pair(y.cg->x, y.cg->height));
  }
  CHECK(a.sag.fraction == b.sag.fraction);
  CHECK(a.sag.of == b.sag.of);
}

bike::Layout without_shock() {
  bike::Layout layout = test::invented_layout();
  layout.shock.reset();
  layout.set_up = {};
  layout.loads = {};
  return layout;
}

}  // namespace

TEST_CASE("a layout reads back the same") {
  const bike::Layout layout = test::invented_layout();
  check_same(layout, again(layout));
}

TEST_CASE("numbers without a short decimal form read back the same") {
  bike::Layout layout = test::invented_layout();
  layout.rear_radius = 371.0 + 1.0 / 3.0;
  layout.front.axle = {806.0 + std::numbers::pi, 30.0 - 1e-9};
  layout.mechanism.points[1] = {-392.00000000000006, 1e-7};
  layout.sag = {1.0 / 7.0, bike::SagOf::shock};
  check_same(layout, again(layout));
}

TEST_CASE("every choice a layout can make reads back the same") {
  bike::Layout layout = test::invented_layout();
  SECTION("fork at sag, centre of gravity level") {
    layout.front.follows = bike::ForkFollows::at_sag;
    layout.front.sag = 0.22;
    layout.cg.follows = bike::CgFollows::ground;
    layout.front.head_tube.reset();
  }
  SECTION("fork extended, no masses, no spring, no gears") {
    layout.front.follows = bike::ForkFollows::extended;
    layout.mass.reset();
    layout.shock->spring.reset();
    layout.drivetrain = {};
    layout.set_up = {};
    layout.loads = {};
  }
  SECTION("air spring, bump stop, friction, pressures") {
    spring::Air air;
    air.bore = 46.3;
    air.shaft = 10.0 + 1.0 / 3.0;
    air.positive = 170.1;
    air.negative = 66.6;
    air.transfer = 4.7;
    air.pressure = 12.3;
    air.spacer = 8.1;
    air.spacers = 2;
    air.exponent = 1.37;
    layout.shock->spring = air;
    layout.shock->spring->bump_stop = spring::BumpStop{11.0, 2222.0};
    layout.shock->spring->breakaway = 33.0;
    layout.shock->spring->stroke = 57.5;
    layout.set_up = {{55.0, 99.5}, {}, std::pair(4.0, 21.0), 3, 0.015};
  }
  SECTION("measured spring, several chainrings, a cassette") {
    layout.shock->spring = spring::Table({{0.0, 10.1}, {20.0, 900.0 + 1.0 / 7.0}, {60.0, 4000.0}});
    layout.set_up = {};
    layout.drivetrain.gears = {{30, 18}, {30, 50}, {34, 18}, {34, 50}};
    layout.drivetrain.cassette = {10, 18, 50};
    layout.drivetrain.clear_of = {0, 3};
    layout.loads.cases = {{"climb", 700.0, 0.0, 250.0, 3}};
    layout.front.sag = 0.17;
  }
  SECTION("settings and sizes") {
    layout.settings = {{"low", {{3, {1.0 / 3.0, -7.0}}, {5, {2.0, 0.0}}}, bike::Shock{231.0, 60.0, {}}, {}},
                       {"as-drawn", {}, {}, 351.25}};
    layout.sizes.resize(2);
    layout.sizes[0].name = "M";
    layout.sizes[0].front = layout.front;
    layout.sizes[0].front->axle.x += 20.1;
    layout.sizes[0].front->head_angle = 65.2;
    layout.sizes[0].chainstay = -4.5;
    layout.sizes[1].name = "L";
    layout.sizes[1].riders = {91.0, 70.0};
    layout.sizes[1].cg = bike::CentreOfGravity{33.0, 1144.0, layout.cg.follows};
  }
  SECTION("idler under the chain, brake on another member") {
    layout.drivetrain.idler = bike::Idler{16, 3, false};
    layout.drivetrain.roller = bike::Idler{12, 2, true};
    layout.brake_member = 1;
  }
  check_same(layout, again(layout));
}

TEST_CASE("a linkage moved without a shock reads back the same") {
  bike::Layout layout = without_shock();
  SECTION("by travel") {
    layout.mechanism.drive = {linkage::DriveKind::travel, -1, -1, false, layout.axle.point, -1, 160.5};
  }
  SECTION("by turning a member") {
    layout.mechanism.drive = {linkage::DriveKind::turn, -1, -1, false, -1, 3, math::radians(-47.3)};
  }
  // Without its shock the mount is a point of the frame alone, which is allowed.
  check_same(layout, again(layout));
}

TEST_CASE("a title may hold anything") {
  bike::Layout layout = test::invented_layout();
  layout.title = "yes: \"no\" \\ # {[*&!|>'%@`]} é\tx";
  CHECK(again(layout).title == layout.title);
}
