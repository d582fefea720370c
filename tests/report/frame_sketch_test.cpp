// Tubes around a linkage: they stand where the layout says, and add nothing else to what is drawn.
#include "report/frame_sketch.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "fixture.hpp"

using namespace trammel;
using bike::Point;
using report::Part;

namespace {

report::Scene sketched(const bike::Layout& layout, const bike::Pose& pose) {
  report::Scene scene = report::make_scene(layout, pose, nullptr);
  report::sketch_frame(scene, layout, pose);
  return scene;
}

const report::Stroke& named(const report::Scene& scene, const std::string& name) {
  const auto found =
      std::find_if(scene.strokes.begin(), scene.strokes.end(), [&](const auto& s) { return s.name == name; });
  REQUIRE(found != scene.strokes.end());
  return *found;
}

bool same(Point a, Point b) {
  return norm(a - b) < 1e-9;
}

}  // namespace

TEST_CASE("a sketched frame has its head tube where the layout says, and its fork ends at the axle in every position") {
  auto layout = test::invented_layout();
  layout.front.head_angle = 65.0;
  layout.front.head_tube = bike::HeadTube{{470.0, 620.0}, 118.0};
  layout.seat_angle = 76.0;
  const auto sheet = test::invented_sheet(layout, 3);
  for (const auto* pose : {&sheet.topped_out, &sheet.bottomed}) {
    const auto scene = sketched(layout, *pose);
    const auto& head = named(scene, "head_tube").points;
    CHECK(same(head[0], {470.0, 620.0}));
    const Point along = head[1] - head[0];
    CHECK(norm(along) == Approx(118.0));
    CHECK(std::atan2(-along.y, along.x) * 180.0 / math::pi == Approx(65.0));
    CHECK(same(named(scene, "leg").points[1], pose->front_axle));
    const Point up = named(scene, "seat_tube").points[1];
    CHECK(same(named(scene, "seat_tube").points[0], {}));
    CHECK(std::atan2(up.y, -up.x) * 180.0 / math::pi == Approx(76.0));
    for (const auto& s : scene.strokes) CHECK(s.part != Part::frame);
  }
  // The crown is the frame's: what moves in the fork is the axle alone.
  const auto high = sketched(layout, sheet.topped_out), low = sketched(layout, sheet.bottomed);
  CHECK(same(named(high, "leg").points[0], named(low, "leg").points[0]));
}

TEST_CASE("without a head tube a frame is sketched where its front axle lets one expect it") {
  auto layout = test::invented_layout();
  layout.front.head_tube.reset();
  const auto sheet = test::invented_sheet(layout, 3);
  const auto scene = sketched(layout, sheet.topped_out);
  const auto& head = named(scene, "head_tube").points;
  const double tyre_to_crown = norm(head[1] - layout.front.axle) - layout.front_radius - layout.front.travel;
  CHECK(tyre_to_crown > 0.0);
  CHECK(tyre_to_crown < 60.0);
}

TEST_CASE("every point of the frame has a bracket that ends on a tube") {
  const auto layout = test::invented_layout();
  const auto sheet = test::invented_sheet(layout, 3);
  const auto scene = sketched(layout, sheet.at_sag);
  std::size_t brackets = 0;
  for (const auto& s : scene.strokes) {
    if (s.name != "bracket" || s.closed) continue;
    ++brackets;
    double nearest = 1e9;
    for (const auto& tube : scene.strokes) {
      if (tube.part != Part::tube || tube.name.find("_tube") == std::string::npos) continue;
      const Point along = tube.points[1] - tube.points[0];
      const double t = std::clamp(dot(s.points[0] - tube.points[0], along) / dot(along, along), 0.0, 1.0);
      nearest = std::min(nearest, norm(tube.points[0] + along * t - s.points[0]));
    }
    CHECK(nearest < 1e-9);
    CHECK(std::any_of(scene.joints.begin(), scene.joints.end(),
                      [&](const auto& joint) { return joint.on_frame && same(joint.at, s.points[1]); }));
  }
  const auto& mechanism = layout.mechanism;
  CHECK(brackets == mechanism.members[static_cast<std::size_t>(mechanism.frame)].points.size());
}

TEST_CASE("a sketch moves no link and no joint") {
  const auto layout = test::invented_layout();
  const auto sheet = test::invented_sheet(layout, 3);
  const auto plain = report::make_scene(layout, sheet.at_sag, nullptr), scene = sketched(layout, sheet.at_sag);
  REQUIRE(plain.joints.size() == scene.joints.size());
  for (std::size_t i = 0; i < plain.joints.size(); ++i) CHECK(same(plain.joints[i].at, scene.joints[i].at));
  for (const auto& s : plain.strokes) {
    if (s.part != Part::link && s.part != Part::shock) continue;
    const auto& kept = named(scene, s.name);
    REQUIRE(kept.points.size() == s.points.size());
    for (std::size_t i = 0; i < s.points.size(); ++i) CHECK(same(kept.points[i], s.points[i]));
  }
}
