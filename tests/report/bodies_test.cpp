// Bodies of the packaging as they are drawn.
#include <catch2/catch.hpp>

#include "report/scene.hpp"

using namespace trammel;
using report::Part;

TEST_CASE("a tube is drawn by two sides and two ends, a circle by one, a polygon closed") {
  const std::vector<bike::BodyOutline> bodies{
      {"tube", false, {{{0, 0}, {100, 0}, 15.0}}},
      {"tyre", false, {{{-400, 30}, {-400, 30}, 371.0}}},
      {"motor", true, {{{0, 0}, {9, 0}, 0}, {{9, 0}, {9, 9}, 0}, {{9, 9}, {0, 0}, 0}}}};
  report::Scene scene;
  report::add_bodies(scene, bodies);
  REQUIRE(scene.discs.size() == 3);
  CHECK(scene.discs[0].radius == 15.0);
  CHECK(scene.discs[1].centre.x == 100.0);
  CHECK(scene.discs[2].radius == 371.0);
  REQUIRE(scene.strokes.size() == 3);
  for (const int side : {0, 1}) {
    const report::Stroke& stroke = scene.strokes[static_cast<std::size_t>(side)];
    CHECK(stroke.part == Part::body);
    CHECK(std::abs(stroke.points[0].y) == 15.0);
    CHECK(stroke.points[1].y == stroke.points[0].y);
    CHECK(stroke.points[1].x == 100.0);
  }
  CHECK(scene.strokes[0].points[0].y == -scene.strokes[1].points[0].y);
  CHECK(scene.strokes[2].closed);
  CHECK(scene.strokes[2].points.size() == 3);
}
