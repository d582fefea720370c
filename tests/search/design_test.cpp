// How a point of the unit box becomes a layout.
#include "search/design.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "math/dual.hpp"
#include "search/bounds.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Design;
using test::point_named;
using test::within;
using Point = linkage::Point;

namespace {

std::vector<Point> placed(const Design& design, const std::vector<double>& x, int choice = 0) {
  std::vector<Point> points;
  design.place<double>(x, choice, points);
  return points;
}
std::vector<double> random_point(std::mt19937_64& random, int n) {
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  std::vector<double> x(static_cast<std::size_t>(n));
  for (double& v : x) v = unit(random);
  return x;
}

/// A single pivot with everything that a brief can vary: a point by x alone, one by polar, a shock to choose.
brief::Brief pivot_brief() {
  return test::brief_of(brief::read_text(R"(
trammel: 1
title: Single pivot with a choice of shocks
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [806, 30], head_angle: 64.8, travel: 160 }
  cg: { x: 20, height: 1120 }
linkage:
  points: { pivot: [10, 70], axle: [-437, 30], eye: [-50, 232], mount: [176.5, 271.9] }
  members: { frame: [pivot, mount], swingarm: [pivot, axle, eye] }
  axle: { point: axle, member: swingarm }
shock: { between: [mount, eye], length: 230, stroke: 57.5 }
vary:
  mount: { from: eye, length: shock, angle: [-10, 40] }
  eye: { from: pivot, length: [150, 190], angle: [100, 120] }
  pivot: { x: [0, 20] }
choose:
  shock: [ { length: 210, stroke: 52.5 }, { length: 230, stroke: 57.5 } ]
targets: [ { curve: travel, at: bottomed, floor: 120 } ]
)",
                                         "pivot.yaml"));
}

/// Every tie: from another point, as far as two others are apart, mirrored about a point and in a line.
brief::Brief tied_brief() {
  return test::brief_of(
      brief::read_text(test::rocker_text("[-437, 32]", R"(  toe: { mirrors: tail, across: [rocker, eye] }
  knee: { mirrors: tail, about: rocker }
  eye: { from: rocker, as_long_as: [rocker, tail], angle: [15, 110] }
  rocker: { from: main, x: -60, y: [200, 270] }
  idler: { from: main }
  main: { x: [-25, 20], y: [35, 90] }
  tail: { x: [-180, -100] }
  mount: { from: eye, length: shock, angle: [-65, -15] })"),
                       "tied.yaml"));
}

}  // namespace

TEST_CASE("variables are named, with unit and range, and a coordinate left out stays as drawn") {
  const brief::Brief brief = pivot_brief();
  const Design design(brief);
  REQUIRE(design.size() == 4);
  std::map<std::string, search::Variable> by_name;
  for (const search::Variable& v : design.variables()) by_name[v.name] = v;
  CHECK(by_name.count("pivot.x") == 1);
  CHECK(by_name.count("eye.length") == 1);
  CHECK(by_name.count("eye.angle") == 1);
  CHECK(by_name.count("mount.angle") == 1);
  CHECK(by_name["eye.length"].unit == "mm");
  CHECK(by_name["eye.length"].lo == 150.0);
  CHECK(by_name["eye.length"].hi == 190.0);
  CHECK(by_name["mount.angle"].unit == "°");
  CHECK(by_name["mount.angle"].at(0.25) == within(2.5, 1e-15));

  std::mt19937_64 random(1);
  const auto pivot = static_cast<std::size_t>(point_named(brief.layout.mechanism, "pivot"));
  const auto axle = static_cast<std::size_t>(point_named(brief.layout.mechanism, "axle"));
  for (int i = 0; i < 20; ++i) {
    const std::vector<Point> points = placed(design, random_point(random, 4));
    CHECK(points[pivot].y == 70.0);
    CHECK(points[pivot].x >= 0.0);
    CHECK(points[pivot].x <= 20.0);
    CHECK((points[axle].x == -437.0 && points[axle].y == 30.0));
  }
}

TEST_CASE("a point by x and y is where its two variables say") {
  const brief::Brief brief = test::trail_brief();
  const Design design(brief);
  REQUIRE(design.size() == 11);
  std::mt19937_64 random(2);
  const auto tail = static_cast<std::size_t>(point_named(brief.layout.mechanism, "tail"));
  for (int i = 0; i < 20; ++i) {
    const std::vector<double> x = random_point(random, 11);
    const std::vector<Point> points = placed(design, x);
    for (std::size_t v = 0; v < x.size(); ++v) {
      if (design.variables()[v].name == "tail.x") CHECK(points[tail].x == within(-180.0 + 80.0 * x[v], 1e-12));
      if (design.variables()[v].name == "tail.y") CHECK(points[tail].y == within(290.0 + 90.0 * x[v], 1e-12));
    }
  }
}

TEST_CASE("a polar point keeps its length and angle from where the other point has gone") {
  const brief::Brief brief = pivot_brief();
  const Design design(brief);
  std::mt19937_64 random(3);
  const auto pivot = static_cast<std::size_t>(point_named(brief.layout.mechanism, "pivot"));
  const auto eye = static_cast<std::size_t>(point_named(brief.layout.mechanism, "eye"));
  for (int i = 0; i < 50; ++i) {
    const std::vector<double> x = random_point(random, 4);
    const std::vector<Point> points = placed(design, x);
    const Point arm = points[eye] - points[pivot];
    for (std::size_t v = 0; v < x.size(); ++v) {
      const search::Variable& variable = design.variables()[v];
      if (variable.name == "eye.length") CHECK(std::hypot(arm.x, arm.y) == within(150.0 + 40.0 * x[v], 1e-11));
      if (variable.name == "eye.angle")
        CHECK(std::atan2(arm.y, arm.x) * 180.0 / math::pi == within(100.0 + 20.0 * x[v], 1e-11));
    }
  }
}

TEST_CASE("`length: shock` keeps the eye-to-eye length of the chosen shock") {
  const brief::Brief brief = pivot_brief();
  const Design design(brief);
  REQUIRE(design.choices() == 2);
  std::mt19937_64 random(4);
  const auto eye = static_cast<std::size_t>(point_named(brief.layout.mechanism, "eye"));
  const auto mount = static_cast<std::size_t>(point_named(brief.layout.mechanism, "mount"));
  for (int i = 0; i < 50; ++i) {
    const std::vector<double> x = random_point(random, 4);
    for (int choice = 0; choice < 2; ++choice) {
      const double length = choice == 0 ? 210.0 : 230.0;
      const std::vector<Point> points = placed(design, x, choice);
      CHECK(norm(points[mount] - points[eye]) == within(length, 1e-11));
      // On the grid each eye moves by at most half a step each way: √2 of a step in all.
      const bike::Layout layout = design.layout(x, choice);
      CHECK(norm(layout.mechanism.points[mount] - layout.mechanism.points[eye]) == within(length, 0.0015));
    }
  }
}

TEST_CASE("a choice sets the shock, the stroke of the drive, and nothing else") {
  const brief::Brief brief = pivot_brief();
  const Design design(brief);
  for (int choice = 0; choice < 2; ++choice) {
    const bike::Layout layout = design.with_choice(choice);
    CHECK(layout.shock->length == (choice == 0 ? 210.0 : 230.0));
    CHECK(layout.shock->stroke == (choice == 0 ? 52.5 : 57.5));
    CHECK(layout.mechanism.drive.range == layout.shock->stroke);
    for (std::size_t p = 0; p < layout.mechanism.points.size(); ++p)
      CHECK((layout.mechanism.points[p].x == brief.layout.mechanism.points[p].x &&
             layout.mechanism.points[p].y == brief.layout.mechanism.points[p].y));
  }
  // Without a list to choose from there is one choice, the layout's own shock.
  const brief::Brief trail = test::trail_brief();
  CHECK(Design(trail).choices() == 1);
  CHECK(Design(trail).with_choice(0).shock->length == 230.0);
}

TEST_CASE("every shock is offered with every idler") {
  brief::Brief brief = pivot_brief();
  brief.layout.drivetrain.idler = bike::Idler{16, 0, true};
  brief.idlers = {14, 16, 18};
  const Design design(brief);
  REQUIRE(design.choices() == 6);
  std::set<std::pair<double, int>> met;
  for (int choice = 0; choice < 6; ++choice) {
    const bike::Layout layout = design.with_choice(choice);
    met.insert({layout.shock->length, layout.drivetrain.idler->teeth});
    // The point that the shock's length places goes with the choice's shock.
    const std::vector<double> x(4, 0.5);
    const std::vector<Point> points = placed(design, x, choice);
    const auto at = [&](const char* name) {
      return points[static_cast<std::size_t>(point_named(brief.layout.mechanism, name))];
    };
    CHECK(norm(at("mount") - at("eye")) == within(layout.shock->length, 1e-11));
  }
  CHECK(met.size() == 6);
}

TEST_CASE("every shock is offered with every idler and every chainring, and a chainring is the same in all gears") {
  brief::Brief brief = pivot_brief();
  brief.layout.drivetrain.idler = bike::Idler{16, 0, true};
  brief.layout.drivetrain.gears = {{32, 18, true}, {32, 50, true}};
  brief.idlers = {14, 16, 18};
  brief.chainrings = {30, 34};
  const Design design(brief);
  REQUIRE(design.choices() == 12);
  std::set<std::tuple<double, int, int>> met;
  for (int choice = 0; choice < 12; ++choice) {
    const bike::Layout layout = design.with_choice(choice);
    const auto& gears = layout.drivetrain.gears;
    met.insert({layout.shock->length, layout.drivetrain.idler->teeth, gears[0].chainring});
    CHECK(gears[1].chainring == gears[0].chainring);
    CHECK((gears[0].name() == "x18" && gears[1].name() == "x50"));
  }
  CHECK(met.size() == 12);
  CHECK(met.count({230.0, 18, 34}) == 1);
}

TEST_CASE("tied points keep their tie wherever the search puts the others") {
  const brief::Brief brief = tied_brief();
  const Design design(brief);
  REQUIRE(design.size() == 6);
  std::map<std::string, std::size_t> number;
  for (std::size_t v = 0; v < 6; ++v) number[design.variables()[v].name] = v;
  REQUIRE(number.count("rocker.y - main.y") == 1);
  std::mt19937_64 random(7);
  for (int i = 0; i < 50; ++i) {
    const std::vector<double> x = random_point(random, 6);
    const std::vector<Point> points = placed(design, x);
    const auto at = [&](const char* name) {
      return points[static_cast<std::size_t>(point_named(brief.layout.mechanism, name))];
    };
    // From another point, 60 mm behind it and as far above it as the variable says.
    CHECK(at("rocker").x - at("main").x == within(-60.0, 1e-12));
    CHECK(at("rocker").y - at("main").y == within(200.0 + 70.0 * x[number["rocker.y - main.y"]], 1e-12));
    // Both coordinates left out: as drawn.
    CHECK(at("idler").x - at("main").x == within(-12.0, 1e-12));
    CHECK(at("idler").y - at("main").y == within(75.0, 1e-12));
    // Arms of one length.
    CHECK(norm(at("eye") - at("rocker")) == within(norm(at("tail") - at("rocker")), 1e-11));
    // About a point: it is the middle of the two.
    CHECK(0.5 * (at("knee").x + at("tail").x) == within(at("rocker").x, 1e-11));
    CHECK(0.5 * (at("knee").y + at("tail").y) == within(at("rocker").y, 1e-11));
    // In a line: the middle of the two lies on it, and what joins them stands upright on it.
    const Point along = at("eye") - at("rocker");
    const Point middle = (at("toe") + at("tail")) * 0.5 - at("rocker");
    CHECK(cross(along, middle) == within(0.0, 1e-8));
    CHECK(dot(along, at("toe") - at("tail")) == within(0.0, 1e-8));
    CHECK(norm(at("toe") - at("rocker")) == within(norm(at("tail") - at("rocker")), 1e-11));
  }
}

TEST_CASE("tied points pass on their slopes: by dual numbers and by differences") {
  using Dual = math::Dual<6>;
  const brief::Brief brief = tied_brief();
  const Design design(brief);
  std::mt19937_64 random(8);
  const std::vector<double> x = random_point(random, 6);
  std::vector<Dual> dual_x;
  dual_x.reserve(6);
  for (int i = 0; i < 6; ++i) dual_x.push_back(Dual::variable(x[static_cast<std::size_t>(i)], i));
  std::vector<math::Vec2<Dual>> with;
  design.place<Dual>(dual_x, 0, with);
  constexpr double h = 1e-5;
  for (std::size_t v = 0; v < 6; ++v) {
    std::vector<double> less = x, more = x;
    less[v] -= h, more[v] += h;
    const std::vector<Point> below = placed(design, less), above = placed(design, more);
    for (std::size_t p = 0; p < with.size(); ++p) {
      CHECK(with[p].x.d[v] == within((above[p].x - below[p].x) / (2.0 * h), 1e-5));
      CHECK(with[p].y.d[v] == within((above[p].y - below[p].y) / (2.0 * h), 1e-5));
    }
  }
}

TEST_CASE("a mirror through two points on one spot gives numbers all the same") {
  brief::Brief brief = tied_brief();
  const auto number = [&](const char* name) { return point_named(brief.layout.mechanism, name); };
  auto& points = brief.layout.mechanism.points;
  brief.vary = {{number("main"), brief::Cartesian{{-25.0, 20.0}, {55.0, 55.0}}},
                {number("toe"), brief::Mirrored{number("tail"), number("rocker"), number("eye")}}};
  points[static_cast<std::size_t>(number("eye"))] = points[static_cast<std::size_t>(number("rocker"))];
  const Design design(brief);
  const std::vector<Point> found = placed(design, {0.5});
  const Point toe = found[static_cast<std::size_t>(number("toe"))];
  CHECK((std::isfinite(toe.x) && std::isfinite(toe.y)));
}

TEST_CASE("bounds hold every point that is tied, wherever the search puts the others") {
  const brief::Brief brief = tied_brief();
  const Design design(brief);
  const std::vector<search::PointBounds> bounds = search::point_bounds(brief);
  std::mt19937_64 random(9);
  for (int i = 0; i < 200; ++i) {
    std::vector<double> x = random_point(random, 6);
    if (i < 64)
      for (std::size_t v = 0; v < 6; ++v) x[v] = (i >> v) & 1;
    const std::vector<Point> points = placed(design, x);
    for (std::size_t p = 0; p < points.size(); ++p) {
      CHECK((points[p].x >= bounds[p].x.lo && points[p].x <= bounds[p].x.hi));
      CHECK((points[p].y >= bounds[p].y.lo && points[p].y <= bounds[p].y.hi));
      for (std::size_t q = 0; q < p; ++q) {
        const auto range = search::distance_between(brief, bounds, static_cast<int>(p), static_cast<int>(q));
        CHECK(norm(points[p] - points[q]) <= range.hi);
        CHECK(norm(points[p] - points[q]) >= range.lo);
      }
    }
  }
  // Placed from one another, they are no further apart than the ranges say.
  const int main = point_named(brief.layout.mechanism, "main"), rocker = point_named(brief.layout.mechanism, "rocker");
  CHECK(search::distance_between(brief, bounds, rocker, main).hi == within(std::hypot(60.0, 270.0), 0.01));
}

TEST_CASE("layouts stand on a grid of a thousandth of a millimetre") {
  const brief::Brief brief = test::trail_brief();
  const Design design(brief);
  std::mt19937_64 random(5);
  for (int i = 0; i < 50; ++i) {
    const std::vector<double> x = random_point(random, design.size());
    const std::vector<Point> exact = placed(design, x);
    const bike::Layout layout = design.layout(x, 0);
    for (std::size_t p = 0; p < exact.size(); ++p) {
      const Point at = layout.mechanism.points[p];
      for (double c : {at.x, at.y}) {
        // The nearest double to a number of three decimals: reading its print gives it back.
        char text[40];
        std::snprintf(text, sizeof text, "%.3f", c);
        CHECK(std::stod(text) == c);
      }
      CHECK(at.x == within(exact[p].x, 0.000501));
      CHECK(at.y == within(exact[p].y, 0.000501));
    }
  }
}

TEST_CASE("placing with derivatives gives the same points and the slopes of a hand calculation") {
  using Dual = math::Dual<4>;
  const brief::Brief brief = pivot_brief();
  const Design design(brief);
  std::mt19937_64 random(6);
  const std::vector<double> x = random_point(random, 4);
  std::vector<Dual> dual_x;
  dual_x.reserve(4);
  for (int i = 0; i < 4; ++i) dual_x.push_back(Dual::variable(x[static_cast<std::size_t>(i)], i));
  std::vector<math::Vec2<Dual>> with;
  design.place<Dual>(dual_x, 1, with);
  const std::vector<Point> plain = placed(design, x, 1);
  for (std::size_t p = 0; p < plain.size(); ++p) {
    CHECK(with[p].x.v == plain[p].x);
    CHECK(with[p].y.v == plain[p].y);
  }
  const auto eye = static_cast<std::size_t>(point_named(brief.layout.mechanism, "eye"));
  const auto mount = static_cast<std::size_t>(point_named(brief.layout.mechanism, "mount"));
  for (std::size_t v = 0; v < 4; ++v) {
    const search::Variable& variable = design.variables()[v];
    const Point shock = plain[mount] - plain[eye];
    // A turn of 50° over the range moves the mount at right angles to the shock.
    if (variable.name == "mount.angle") {
      const double radians = 50.0 * math::pi / 180.0;
      CHECK(with[mount].x.d[v] == within(-shock.y * radians, 1e-10));
      CHECK(with[mount].y.d[v] == within(shock.x * radians, 1e-10));
      CHECK(with[eye].x.d[v] == 0.0);
    }
    if (variable.name == "pivot.x") {
      CHECK(with[mount].x.d[v] == within(20.0, 1e-12));
      CHECK(with[mount].y.d[v] == within(0.0, 1e-12));
    }
  }
}

TEST_CASE("distance of designs") {
  const std::vector<double> a{0.0, 0.5, 1.0, 0.2}, b{1.0, 0.5, 0.0, 0.2};
  CHECK(search::distance(a, a) == 0.0);
  CHECK(search::distance(a, b) == within(std::sqrt(2.0 / 4.0), 1e-15));
  CHECK(search::distance(a, b) == search::distance(b, a));
  CHECK(search::distance(std::vector<double>(7, 0.0), std::vector<double>(7, 1.0)) == within(1.0, 1e-15));
  CHECK(search::distance({}, {}) == 0.0);
}
