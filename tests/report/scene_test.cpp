#include "report/scene.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "bike/sprocket.hpp"
#include "fixture.hpp"

using namespace trammel;
using bike::Point;
using report::Part;

namespace {

double distance_to_line(Point p, Point a, Point b) {
  return std::abs(cross(b - a, p - a)) / norm(b - a);
}

std::vector<report::Stroke> strokes_of(const report::Scene& scene, Part part) {
  std::vector<report::Stroke> out;
  for (const auto& stroke : scene.strokes) {
    if (stroke.part == part) out.push_back(stroke);
  }
  return out;
}

}  // namespace

TEST_CASE("the chain touches both pitch circles on their upper side") {
  const auto sheet = test::invented_sheet(test::invented_layout(), 3);
  for (const auto& gear : sheet.layout.drivetrain.gears) {
    const auto chain = strokes_of(report::make_scene(sheet.layout, sheet.at_sag, &gear), Part::chain);
    REQUIRE(chain.size() == 1);
    const Point a = chain[0].points[0], b = chain[0].points[1], axle = sheet.at_sag.points[2];
    CHECK(distance_to_line(axle, a, b) == Approx(bike::pitch_radius(gear.cog)).epsilon(1e-12));
    CHECK(distance_to_line({}, a, b) == Approx(bike::pitch_radius(gear.chainring)).epsilon(1e-12));
    CHECK(norm(a - axle) == Approx(bike::pitch_radius(gear.cog)).epsilon(1e-12));
    CHECK(a.y > axle.y);
    CHECK(b.y > 0.0);
  }
}

TEST_CASE("over an idler the chain has two spans, one crossing sides when it runs under") {
  auto layout = test::invented_layout();
  for (const bool over : {true, false}) {
    layout.drivetrain.idler = bike::Idler{16, 3, over};
    const auto sheet = test::invented_sheet(layout, 3);
    const auto chain =
        strokes_of(report::make_scene(sheet.layout, sheet.topped_out, &layout.drivetrain.gears[0]), Part::chain);
    REQUIRE(chain.size() == 2);
    const Point idler = sheet.topped_out.points[3];
    for (const auto& span : chain) {
      CHECK(distance_to_line(idler, span.points[0], span.points[1]) == Approx(bike::pitch_radius(16)).epsilon(1e-12));
    }
    // The contact on the idler lies above its axis when the chain runs over it, else below.
    CHECK((chain[0].points[1].y > idler.y) == over);
  }
}

TEST_CASE("members are drawn through the points they carry") {
  const auto sheet = test::invented_sheet(test::invented_layout(), 3);
  const auto links = strokes_of(report::make_scene(sheet.layout, sheet.topped_out, nullptr), Part::link);
  REQUIRE(links.size() == 3);
  for (const auto& link : links) {
    const auto& members = sheet.layout.mechanism.members;
    const auto member =
        std::find_if(members.begin(), members.end(), [&](const auto& m) { return m.name == link.name; });
    REQUIRE(member != members.end());
    CHECK(link.points.size() == member->points.size());
    CHECK(link.closed == (member->points.size() > 2));
    for (const int p : member->points) {
      const Point at = sheet.topped_out.points[static_cast<std::size_t>(p)];
      CHECK(std::any_of(link.points.begin(), link.points.end(), [&](Point q) { return norm(q - at) == 0.0; }));
    }
  }
}

TEST_CASE("pivots are what two members or a member and the shock share") {
  const auto sheet = test::invented_sheet(test::invented_layout(), 3);
  for (const auto& joint : report::make_scene(sheet.layout, sheet.topped_out, nullptr).joints) {
    CAPTURE(joint.name);
    CHECK(joint.pivot == (joint.name != "axle"));
    CHECK(joint.on_frame == (joint.name == "main" || joint.name == "rocker" || joint.name == "mount"));
  }
}

TEST_CASE("the centre of gravity is drawn at its height over the ground, on sloping ground too") {
  auto sheet = test::invented_sheet(test::invented_layout(), 3);
  auto pose = sheet.topped_out;
  pose.ground = math::unit(math::radians(3.0));
  const Point cg = report::cg_in_frame(sheet.layout, pose);
  CHECK(cg.x == sheet.layout.cg.x);
  CHECK(dot(cg - pose.rear_contact, math::perp(pose.ground)) == Approx(sheet.layout.cg.height).epsilon(1e-12));
}

TEST_CASE("the line to the saddle leaves the bottom bracket at the seat angle and ends as high as the head tube") {
  auto layout = test::invented_layout();
  const auto sheet = test::invented_sheet(layout, 3);
  for (const auto& pose : {sheet.topped_out, sheet.bottomed}) {  // the frame stands still
    const auto lines = strokes_of(report::make_scene(layout, pose, nullptr), Part::seat_line);
    REQUIRE(lines.size() == 1);
    REQUIRE(lines[0].points.size() == 2);
    CHECK(norm(lines[0].points[0]) == 0.0);
    const Point top = lines[0].points[1];
    CHECK(top.x < 0.0);  // the bike faces +x, the saddle is behind
    CHECK(top.y == Approx(layout.front.head_tube->top.y).epsilon(1e-12));
    CHECK(math::degrees(std::atan2(top.y, -top.x)) == Approx(76.5).epsilon(1e-12));
  }
  layout.front.head_tube.reset();  // then nothing tells how high
  const auto alone = strokes_of(report::make_scene(layout, sheet.topped_out, nullptr), Part::seat_line);
  REQUIRE(alone.size() == 1);
  CHECK(norm(alone[0].points[1]) == Approx(1.5 * layout.rear_radius).epsilon(1e-12));
  layout.seat_angle.reset();
  CHECK(strokes_of(report::make_scene(layout, sheet.topped_out, nullptr), Part::seat_line).empty());
}

TEST_CASE("a member is drawn through its outermost points, in their order around it, however they are listed") {
  bike::Layout layout = test::invented_layout();
  bike::Pose pose = test::invented_sheet(layout, 3).topped_out;
  auto& m = layout.mechanism;
  const auto first = static_cast<int>(m.points.size());
  const std::vector<Point> corners{{-300, 100}, {-200, 100}, {-200, 200}, {-300, 200}};
  for (const Point& p : {corners[0], corners[1], corners[2], corners[3], Point{-250, 150}, Point{-300, 150}}) {
    m.points.push_back(p);
    pose.points.push_back(p);
    m.point_names.push_back("corner " + std::to_string(m.points.size()));
  }
  std::vector<int> order{0, 1, 2, 3, 4, 5};
  do {
    m.members.back().points.clear();
    for (const int i : order) m.members.back().points.push_back(first + i);
    const std::vector<Point> drawn = strokes_of(report::make_scene(layout, pose, nullptr), Part::link).back().points;
    REQUIRE(drawn.size() == 4);
    double area = 0.0;  // by the trapezoid formula, counter-clockwise positive
    for (std::size_t i = 0; i < 4; ++i) area += 0.5 * cross(drawn[i], drawn[(i + 1) % 4]);
    REQUIRE(area == Approx(100.0 * 100.0));
  } while (std::next_permutation(order.begin(), order.end()));
}
