// The lines that show anti-squat and anti-rise, held against the table's values and against each other.
#include "report/constructions.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "fixture.hpp"
#include "search/make_sheet.hpp"
#include "tests/search/briefs.hpp"

using namespace trammel;
using bike::Curve;
using bike::Point;
using report::Part;

namespace {

const report::Stroke* find(const report::Scene& scene, Part part) {
  const auto found =
      std::find_if(scene.strokes.begin(), scene.strokes.end(), [&](const auto& s) { return s.part == part; });
  return found == scene.strokes.end() ? nullptr : &*found;
}

/// Height over the ground, mm.
double height(const bike::Pose& pose, Point p) {
  return dot(perp(pose.ground), p - pose.rear_contact);
}

}  // namespace

TEST_CASE("lines of load transfer, driving and braking stand to each other as anti-squat and anti-rise say") {
  const auto sheet = test::invented_sheet(test::invented_layout(), 5);
  const auto& motion = sheet.motion;
  for (std::size_t k = 0; k < motion.poses.size(); ++k) {
    const bike::Pose& pose = motion.poses[k];
    report::Scene scene;
    report::add_constructions(scene, sheet.layout, motion, k);
    const auto* whole = find(scene, Part::transfer);
    REQUIRE(whole != nullptr);
    CHECK(norm(whole->points[0] - pose.rear_contact) < 1e-9);
    // Over the front contact, as high as the centre of gravity.
    CHECK(dot(pose.ground, whole->points[1] - pose.front_contact) == Approx(0.0).margin(1e-9));
    REQUIRE(scene.discs.size() == 1);
    CHECK(height(pose, scene.discs[0].centre) == Approx(height(pose, whole->points[1])));
    CHECK(scene.discs[0].centre.x == sheet.layout.cg.x);
    const double rise = *motion.table.find({Curve::anti_rise})->values[k];
    const auto* braking = find(scene, Part::braking);
    REQUIRE(braking != nullptr);
    CHECK(100.0 * height(pose, braking->points[1]) / height(pose, whole->points[1]) == Approx(rise));
    for (int gear = 0; gear < static_cast<int>(sheet.layout.drivetrain.gears.size()); ++gear) {
      report::Scene driven;
      report::add_driving_line(driven, motion, k, gear);
      const auto* driving = find(driven, Part::driving);
      REQUIRE(driving != nullptr);
      const double squat = *motion.table.find({Curve::anti_squat, gear})->values[k];
      CHECK(100.0 * height(pose, driving->points[1]) / height(pose, whole->points[1]) == Approx(squat));
    }
  }
  // A centre of gravity that is fixed to the frame stays where it is in frame axes.
  report::Scene first, last;
  report::add_constructions(first, sheet.layout, motion, 0);
  report::add_constructions(last, sheet.layout, motion, motion.poses.size() - 1);
  CHECK(norm(first.discs[0].centre - last.discs[0].centre) < 1e-6);
}

TEST_CASE("a single pivot's lines run through its pivot and through the chain's pole") {
  // The brake sits on the swingarm, so the line of braking runs through the pivot; the line of driving runs through the
  // point in which the chain's driving run meets the line from axle to pivot. Cossalter, Motorcycle Dynamics, 2nd ed.
  // (2006), ch. 6, and Foale, Motorcycle Handling and Chassis Design (2002), ch. 9, both from memory.
  const bike::Layout layout =
      test::brief_of(brief::read_file(test::in_tree("configs/layouts/single-pivot.yaml"))).layout;
  const search::Sheet sheet = search::make_sheet(layout, {}, {});
  const auto off = [](const report::Stroke& line, Point p) {
    const Point along = line.points[1] - line.points[0];
    return std::abs(cross(along, p - line.points[0])) / norm(along);
  };
  for (std::size_t k = 0; k < sheet.motion.poses.size(); k += 20) {
    const bike::Pose& pose = sheet.motion.poses[k];
    const Point pivot = pose.points[0], axle = pose.points[1];
    report::Scene scene;
    report::add_constructions(scene, layout, sheet.motion, k);
    REQUIRE(find(scene, Part::braking) != nullptr);
    CHECK(off(*find(scene, Part::braking), pivot) < 1e-6);
    for (int gear = 0; gear < static_cast<int>(layout.drivetrain.gears.size()); ++gear) {
      const auto chain = report::chain_scene(layout, pose, layout.drivetrain.gears[static_cast<std::size_t>(gear)]);
      const auto* run = find(chain, Part::chain);
      REQUIRE(run != nullptr);
      const Point along = run->points[1] - run->points[0], arm = pivot - axle;
      const Point pole = axle + arm * (cross(run->points[0] - axle, along) / cross(arm, along));
      report::Scene driven;
      report::add_driving_line(driven, sheet.motion, k, gear);
      REQUIRE(find(driven, Part::driving) != nullptr);
      CHECK(off(*find(driven, Part::driving), pole) < 1e-3 * norm(pole - pose.rear_contact) * 1e-3);
    }
  }
}
