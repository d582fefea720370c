// Which points can be put on a grid, and that they are on it then.
#include "search/grid.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "tests/search/briefs.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Design;
using search::Grid;
using search::GridPart;
using test::within;

namespace {

/// Every way to place a point; the drawn axle on no step.
brief::Brief all_ways(const std::string& edit_from = "", const std::string& edit_to = "") {
  std::string text = test::rocker_text("[-437.3, 32.1]", R"(  main: { x: [-25, 20], y: [35, 90] }
  stay: { from: axle, length: [40, 60], angle: [-40, 20] }
  rocker: { from: main, x: [-80, -40], y: [200, 270] }
  tail: { from: rocker, length: [60, 90], angle: [140, 200] }
  knee: { mirrors: tail, about: rocker }
  eye: { from: rocker, length: 60, angle: [15, 110] }
  toe: { from: eye, x: [-30, 0], y: [10, 30] }
  mount: { from: eye, length: shock, angle: [-65, -15] })");
  if (const auto at = text.find(edit_from); !edit_from.empty()) text.replace(at, edit_from.size(), edit_to);
  return test::brief_of(brief::read_text(text, "ways.yaml"));
}

bool on_steps(double x) {
  return std::abs(x / 0.5 - std::round(x / 0.5)) < 1e-9;
}

std::vector<double> random_design(std::mt19937_64& random, int n) {
  std::uniform_real_distribution<double> unit(0.1, 0.9);
  std::vector<double> x(static_cast<std::size_t>(n));
  for (double& v : x) v = unit(random);
  return x;
}

}  // namespace

TEST_CASE("on a grid: points by x and y, by free distance and angle, and their mirror images") {
  const brief::Brief brief = all_ways();
  const Design design(brief);
  const Grid grid(design, 0.5);
  // main.x, main.y, stay, rocker.x, rocker.y, tail, toe.x, toe.y; the eye and the mount are at given distances.
  REQUIRE(grid.parts().size() == 8);
  std::mt19937_64 random(1);
  for (int i = 0; i < 50; ++i) {
    const std::vector<double> start = random_design(random, design.size());
    std::vector<double> x = start;
    for (const GridPart& part : grid.parts()) REQUIRE(grid.put(part, {0.0, 0.0}, 0, x));
    for (double v : x) CHECK((v >= 0.0 && v <= 1.0));
    std::vector<linkage::Point> points, before;
    design.place<double>(x, 0, points);
    design.place<double>(start, 0, before);
    const auto at = [&](const std::vector<linkage::Point>& all, const char* name) {
      return all[static_cast<std::size_t>(test::point_named(brief.layout.mechanism, name))];
    };
    for (const char* name : {"main", "stay", "rocker", "tail", "knee"}) {
      INFO(name);
      CHECK((on_steps(at(points, name).x) && on_steps(at(points, name).y)));
    }
    // Half a step for the point itself and one for each that it is placed from.
    CHECK(std::abs(at(points, "main").x - at(before, "main").x) <= 0.25 + 1e-9);
    CHECK(std::abs(at(points, "stay").y - at(before, "stay").y) <= 0.25 + 1e-9);
    // What its form promises, a point keeps: the given distance, and from an eye on no step whole steps.
    CHECK(norm(at(points, "eye") - at(points, "rocker")) == within(60.0, 1e-10));
    CHECK(norm(at(points, "mount") - at(points, "eye")) == within(230.0, 1e-10));
    CHECK(on_steps(at(points, "toe").x - at(points, "eye").x));

    // A step to the side of one takes along those that are placed from it.
    std::vector<double> moved = x;
    REQUIRE(grid.put(grid.parts().front(), {1.0, 0.0}, 0, moved));
    std::vector<linkage::Point> aside;
    design.place<double>(moved, 0, aside);
    for (const char* name : {"main", "rocker", "tail", "knee"}) {
      CHECK(at(aside, name).x == within(at(points, name).x + 0.5, 1e-9));
      CHECK(at(aside, name).y == within(at(points, name).y, 1e-9));
    }
  }
}

TEST_CASE("on a grid: where the ranges hold no step the point stays where it is") {
  // An arc a tenth of a millimetre wide, near which no step of 5 mm lies.
  const brief::Brief brief = all_ways("tail: { from: rocker, length: [60, 90], angle: [140, 200] }",
                                      "tail: { from: rocker, length: [62.05, 62.15], angle: [170.1, 170.2] }");
  const Design design(brief);
  const Grid grid(design, 5.0);
  std::mt19937_64 random(2);
  std::vector<double> x = random_design(random, design.size());
  int refused = 0;
  for (const GridPart& part : grid.parts()) {
    const std::vector<double> before = x;
    if (grid.put(part, {0.0, 0.0}, 0, x)) continue;
    ++refused;
    CHECK(x == before);
    CHECK(part.axis == -1);
    CHECK(design.variables()[part.variables.front()].name == "tail.length");
  }
  CHECK(refused == 1);
}

TEST_CASE("on a grid: angles beyond a half turn, and a step beyond the ranges") {
  const brief::Brief brief = all_ways("tail: { from: rocker, length: [60, 90], angle: [140, 200] }",
                                      "tail: { from: rocker, length: [60, 90], angle: [-220, -160] }");
  const Design design(brief);
  const Grid grid(design, 0.5);
  std::mt19937_64 random(3);
  std::vector<double> x = random_design(random, design.size());
  for (const GridPart& part : grid.parts()) CHECK(grid.put(part, {0.0, 0.0}, 0, x));
  // 100 mm away is out of every distance's range; a coordinate stops at the last step of its own.
  for (const GridPart& part : grid.parts()) {
    std::vector<double> moved = x;
    const double far = 200.0;
    if (part.axis < 0) {
      CHECK_FALSE(grid.put(part, {far, 0.0}, 0, moved));
      CHECK(moved == x);
    } else {
      CHECK(grid.put(part, {far, far}, 0, moved));
      CHECK((moved[part.variables.front()] >= 0.0 && moved[part.variables.front()] <= 1.0));
    }
  }
}
