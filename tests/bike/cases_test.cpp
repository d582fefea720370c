// Settings and sizes against layouts drawn as they say.
#include "bike/cases.hpp"

#include <catch2/catch.hpp>

#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using bike::Case;
using bike::Layout;
using bike::Point;

namespace {

/// A four-bar with the axle on the coupler; invented numbers.
Layout four_bar() {
  const linkage::Mechanism m = test::MechanismBuilder()
                                   .point("main", -8, 55)
                                   .point("stay", -392, 20)
                                   .point("axle", -437, 32)
                                   .point("tail", -140, 335)
                                   .point("rocker", -70, 305)
                                   .point("eye", -45, 355)
                                   .point("mount", 142, 221.1)
                                   .member("frame", {"main", "rocker", "mount"})
                                   .member("chainstay", {"main", "stay"})
                                   .member("seatstay", {"stay", "axle", "tail"})
                                   .member("rocker", {"rocker", "tail", "eye"})
                                   .shock("mount", "eye", 57.5)
                                   .build();
  return test::bike_around(m);
}

std::size_t point(const Layout& layout, const std::string& name) {
  return static_cast<std::size_t>(test::point_named(layout.mechanism, name));
}

bike::Setting chip(const Layout& layout, const std::string& name, Point by) {
  return {"chip", {{test::point_named(layout.mechanism, name), by}}, {}, {}};
}

void check_same_curves(const Layout& a, const Layout& b) {
  const bike::Motion x = bike::trace(a, 21, true), y = bike::trace(b, 21, true);
  REQUIRE(x.table.columns.size() == y.table.columns.size());
  for (std::size_t c = 0; c < x.table.columns.size(); ++c) {
    INFO(x.table.columns[c].name);
    CHECK(x.table.columns[c].values == y.table.columns[c].values);
  }
}

double distance(const Layout& layout, const std::string& a, const std::string& b) {
  return norm(layout.mechanism.points[point(layout, b)] - layout.mechanism.points[point(layout, a)]);
}

}  // namespace

TEST_CASE("a layout without settings and sizes is its own only case") {
  const Layout layout = four_bar();
  const auto cases = bike::cases_of(layout);
  REQUIRE(cases.size() == 1);
  CHECK(bike::name_of(layout, cases[0]).empty());
  CHECK(bike::holds_in(layout, cases[0], ""));
  check_same_curves(bike::layout_of(layout, cases[0]), layout);
}

TEST_CASE("every setting in every size, with names") {
  Layout layout = four_bar();
  layout.settings = {{"low", {}, {}, {}}, {"high", {}, {}, {}}};
  layout.sizes.resize(3);
  layout.sizes[0].name = "S";
  layout.sizes[1].name = "M";
  layout.sizes[2].name = "L";
  const auto cases = bike::cases_of(layout);
  REQUIRE(cases.size() == 6);
  CHECK(bike::name_of(layout, cases[0]) == "low-S");
  CHECK(bike::name_of(layout, cases[5]) == "high-L");
  int low = 0, medium = 0;
  for (const Case& which : cases) {
    low += bike::holds_in(layout, which, "low") ? 1 : 0;
    medium += bike::holds_in(layout, which, "M") ? 1 : 0;
  }
  CHECK(low == 3);
  CHECK(medium == 2);
}

TEST_CASE("a flip chip's curves are those of a layout drawn with the point moved") {
  for (const char* name : {"axle", "main", "stay", "tail"}) {
    INFO(name);
    Layout layout = four_bar();
    layout.settings = {chip(layout, name, {3.5, -6.25})};
    Layout drawn = four_bar();
    Point& moved = drawn.mechanism.points[point(drawn, name)];
    moved = moved + Point{3.5, -6.25};
    check_same_curves(bike::layout_of(layout, {0, -1}), drawn);
    CHECK(bike::trace(drawn, 2, false).poses.back().travel != bike::trace(four_bar(), 2, false).poses.back().travel);
  }
}

TEST_CASE("another wheel, front, rider and chainstay are those of a layout with these numbers") {
  Layout layout = four_bar();
  layout.mass = bike::Masses{80, 15, 4, 3};
  layout.set_up.riders = {60, 80};
  layout.settings = {{"small", {}, {}, 352.0}};
  bike::Size size;
  size.name = "L";
  size.front = layout.front;
  size.front->axle = {840, 30};
  size.chainstay = 8.0;
  size.riders = {95.0};
  size.cg = bike::CentreOfGravity{35, 1150, bike::CgFollows::frame};
  layout.sizes = {size};
  Layout drawn = four_bar();
  drawn.rear_radius = 352.0;
  drawn.front.axle = {840, 30};
  drawn.cg = *size.cg;
  drawn.mechanism.points[point(drawn, "axle")].x -= 8.0;
  const Layout is = bike::layout_of(layout, {0, 0});
  check_same_curves(is, drawn);
  CHECK(is.mass->rider == 95.0);
  CHECK(is.set_up.riders.empty());
  CHECK(is.settings.empty());
  CHECK(is.sizes.empty());
}

TEST_CASE("a single pivot settles where the cosine rule says") {
  // The swingarm turns until the moved mount is a shock's length from the eye: the law of cosines in the triangle of
  // pivot, eye and mount.
  const linkage::Mechanism m = test::MechanismBuilder()
                                   .point("pivot", 10, 70)
                                   .point("axle", -437, 30)
                                   .point("eye", -50, 232)
                                   .point("mount", 176.5, 271.9)
                                   .member("frame", {"pivot", "mount"})
                                   .member("swingarm", {"pivot", "axle", "eye"})
                                   .shock("mount", "eye", 57.5)
                                   .build();
  for (const Point by : {Point{6, 0}, Point{-6, 0}, Point{0, 9}}) {
    for (const double longer : {0.0, 4.0}) {
      Layout layout = test::bike_around(m);
      layout.settings = {chip(layout, "mount", by)};
      const double length = layout.shock->length + longer;
      if (longer != 0.0) layout.settings[0].shock = bike::Shock{length, 55.0, {}};
      const Layout is = bike::layout_of(layout, {0, -1});
      const Point pivot{10, 70}, eye = Point{-50, 232} - pivot, mount = Point{176.5, 271.9} + by - pivot;
      const double a = norm(eye), b = norm(mount);
      const double wanted = std::acos((a * a + b * b - length * length) / (2.0 * a * b));
      const double drawn = std::acos(dot(eye, mount) / (a * b));
      const double turn = wanted - drawn;  // counter-clockwise, as the eye lies that way of the mount
      const Point axle = Point{-437, 30} - pivot;
      const Point settled = pivot + Point{axle.x * std::cos(turn) - axle.y * std::sin(turn),
                                          axle.x * std::sin(turn) + axle.y * std::cos(turn)};
      CHECK(is.mechanism.points[point(is, "axle")].x == test::within(settled.x, 1e-9));
      CHECK(is.mechanism.points[point(is, "axle")].y == test::within(settled.y, 1e-9));
      CHECK(is.shock->length == length);
      CHECK(is.mechanism.drive.range == (longer != 0.0 ? 55.0 : 57.5));
    }
  }
}

TEST_CASE("where a shock eye moves, the shock keeps its length and the other members their shapes") {
  Layout layout = four_bar();
  const double length = layout.shock->length;
  layout.settings = {chip(layout, "eye", {5, 4})};
  Layout moved = four_bar();
  moved.mechanism.points[point(moved, "eye")] = Point{-40, 359};
  const Layout is = bike::layout_of(layout, {0, -1});
  CHECK(std::abs(distance(moved, "mount", "eye") - length) > 1.0);
  CHECK(distance(is, "mount", "eye") == test::within(length, 1e-9));
  for (const auto& [a, b] :
       {std::pair("main", "stay"), std::pair("stay", "axle"), std::pair("stay", "tail"), std::pair("axle", "tail"),
        std::pair("rocker", "tail"), std::pair("rocker", "eye"), std::pair("tail", "eye")}) {
    INFO(a << " to " << b);
    CHECK(distance(is, a, b) == test::within(distance(moved, a, b), 1e-9));
  }
  CHECK(distance(is, "main", "mount") == distance(moved, "main", "mount"));
}

TEST_CASE("a linkage without closed form settles too") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    if (mechanism.drive.kind != linkage::DriveKind::shock) continue;
    Layout layout = test::bike_around(mechanism);
    const double length = layout.shock->length;
    layout.settings = {{"chip", {{mechanism.drive.b, {2.0, 1.5}}}, {}, {}}};
    const Layout is = bike::layout_of(layout, {0, -1});
    const Layout unsettled = bike::unsettled(layout, {0, -1});
    const auto& p = is.mechanism.points;
    const auto at = [](int i) { return static_cast<std::size_t>(i); };
    CHECK(norm(p[at(mechanism.drive.b)] - p[at(mechanism.drive.a)]) == test::within(length, 1e-8));
    for (const linkage::Member& member : mechanism.members)
      for (int a : member.points)
        for (int b : member.points)
          CHECK(norm(p[at(a)] - p[at(b)]) ==
                test::within(norm(unsettled.mechanism.points[at(a)] - unsettled.mechanism.points[at(b)]), 1e-8));
  }
}
