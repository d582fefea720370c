// Members that keep their shape, and shock eyes that both lie on a grid.
#include <catch2/catch.hpp>
#include <random>

#include "search/bounds.hpp"
#include "search/design.hpp"
#include "search/grid.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Design;
using search::Grid;
using test::within;

namespace {

std::string kept_text(const std::string& vary, const std::string& more) {
  return test::rocker_text("[-437, 30]", vary) + more;
}

const std::string turned =
    "  rocker: { x: [-80, -60], y: [295, 315] }\n"
    "  knee: { from: rocker, angle: [-40, -5] }\n"
    "  mount: { from: eye, length: shock, angle: [-65, -15] }";

}  // namespace

TEST_CASE("a member that keeps its shape is moved and turned as one body") {
  const brief::Brief brief = test::brief_of(brief::read_text(kept_text(turned, "keep: [rocker]\n"), "kept.yaml"));
  const Design design(brief);
  // rocker.x, rocker.y, knee.angle, mount.angle
  CHECK(design.size() == 4);
  const linkage::Mechanism& m = brief.layout.mechanism;
  const auto body = {"rocker", "tail", "eye", "knee", "toe"};
  const std::vector<search::PointBounds> bounds = search::point_bounds(brief);
  std::mt19937_64 random(4);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  double turned_most = 0.0;
  for (int i = 0; i < 50; ++i) {
    std::vector<double> x(4);
    for (double& v : x) v = unit(random);
    std::vector<bike::Point> points;
    design.place<double>(x, 0, points);
    for (const char* one : body)
      for (const char* other : body) {
        const auto a = static_cast<std::size_t>(test::point_named(m, one));
        const auto b = static_cast<std::size_t>(test::point_named(m, other));
        // All distances and the sense in which three points follow each other: a rigid movement, no reflection.
        CHECK(norm(points[a] - points[b]) == within(norm(m.points[a] - m.points[b]), 1e-9));
        const auto base = static_cast<std::size_t>(test::point_named(m, "rocker"));
        CHECK(cross(points[a] - points[base], points[b] - points[base]) ==
              within(cross(m.points[a] - m.points[base], m.points[b] - m.points[base]), 1e-6));
      }
    const auto r = static_cast<std::size_t>(test::point_named(m, "rocker"));
    const auto t = static_cast<std::size_t>(test::point_named(m, "toe"));
    turned_most = std::max(turned_most, norm((points[t] - points[r]) - (m.points[t] - m.points[r])));
    for (std::size_t p = 0; p < points.size(); ++p)
      CHECK((points[p].x >= bounds[p].x.lo && points[p].x <= bounds[p].x.hi && points[p].y >= bounds[p].y.lo &&
             points[p].y <= bounds[p].y.hi));
  }
  CHECK(turned_most > 5.0);
}

TEST_CASE("a kept member of which one point varies is moved without a turn") {
  const std::string moved =
      "  tail: { x: [-150, -130], y: [325, 345] }\n"
      "  mount: { from: eye, length: shock, angle: [-65, -15] }";
  const brief::Brief brief = test::brief_of(brief::read_text(kept_text(moved, "keep: [rocker]\n"), "kept.yaml"));
  const Design design(brief);
  std::vector<bike::Point> points;
  design.place<double>(std::vector<double>{0.75, 0.25, 0.5}, 0, points);
  for (const char* name : {"rocker", "tail", "eye", "knee", "toe"}) {
    const auto p = static_cast<std::size_t>(test::point_named(brief.layout.mechanism, name));
    CHECK(points[p].x == within(brief.layout.mechanism.points[p].x + 5.0, 1e-9));
    CHECK(points[p].y == within(brief.layout.mechanism.points[p].y - 5.0, 1e-9));
  }
}

TEST_CASE("what would bend a kept member is refused") {
  const auto message = [](const std::string& vary, const std::string& keep) {
    return brief::read_text(kept_text(vary, keep), "kept.yaml").message();
  };
  const auto has = [](const std::string& text, const char* words) {
    INFO(text);
    CHECK(text.find(words) != std::string::npos);
  };
  has(message(turned + "\n  toe: { x: [-60, -50] }", "keep: [rocker]\n"), "rocker keeps its shape");
  has(message("  rocker: { x: [-80, -60] }\n  knee: { from: rocker, length: [60, 90], angle: [-40, -5] }\n"
              "  mount: { from: eye, length: shock, angle: [-65, -15] }",
              "keep: [rocker]\n"),
      "one more by its direction from that, knee: { from: rocker, angle: [low, high] }");
  has(message(turned, "keep: [frame]\n"), "the frame is held still");
  has(message(turned, "keep: [rockr]\n"), "did you mean 'rocker'?");
  has(message("  rocker: { x: [-80, -60] }", "keep: [rocker]\n"),
      "shock eye eye goes with a member that keeps its shape, but nothing holds the shock's length");
}

TEST_CASE("the second eye goes to a step at the shock's length within the error, and where none is stays off") {
  const std::string vary =
      "  rocker: { x: [-80, -40], y: [280, 330] }\n"
      "  eye: { x: [-70, -20], y: [330, 380] }\n"
      "  mount: { from: eye, length: shock, angle: [-65, -15] }";
  const auto count = [&](double error) {
    const brief::Brief brief = test::brief_of(brief::read_text(
        kept_text(vary, "search: { grid: 0.5, eye_error: " + std::to_string(error) + " }\n"), "eyes.yaml"));
    const Design design(brief);
    const Grid grid(design, 0.5);
    CHECK(grid.parts().size() == 5);
    const auto mount = static_cast<std::size_t>(test::point_named(brief.layout.mechanism, "mount"));
    const auto eye = static_cast<std::size_t>(test::point_named(brief.layout.mechanism, "eye"));
    std::mt19937_64 random(9);
    std::uniform_real_distribution<double> unit(0.1, 0.9);
    int found = 0;
    for (int i = 0; i < 100; ++i) {
      std::vector<double> x(static_cast<std::size_t>(design.size()));
      for (double& v : x) v = unit(random);
      x[5] = 0.5;  // of its length as it starts
      bool all = true;
      for (const search::GridPart& part : grid.parts()) all = grid.put(part, {0.0, 0.0}, 0, x) && all;
      std::vector<bike::Point> points;
      design.place<double>(x, 0, points);
      const double off = norm(points[mount] - points[eye]) - 230.0;
      const auto on = [](double v) { return std::abs(v / 0.5 - std::round(v / 0.5)) < 1e-9; };
      CHECK(std::abs(off) <= error + 1e-9);
      if (!all) continue;
      ++found;
      CHECK((on(points[eye].x) && on(points[eye].y) && on(points[mount].x) && on(points[mount].y)));
    }
    return found;
  };
  // Of 625 steps around the eye's place, those within ± e of a circle number about 25 · 2e/0.5.
  CHECK(count(0.1) == 100);
  CHECK(count(0.0001) < 60);
  const auto refused = [&](const std::string& more) {
    return brief::read_text(kept_text(vary, more), "eyes.yaml").message();
  };
  CHECK(refused("search: { eye_error: 0.1 }\n").find("eye_error goes with grid") != std::string::npos);
}
