// Briefs in inches. An inch is 25.4 mm by definition (NIST Special Publication 811, appendix B.8).
#include <catch2/catch.hpp>

#include "brief/edit.hpp"
#include "brief/read.hpp"
#include "brief/scaled.hpp"
#include "corpus.hpp"

namespace trammel::test {
namespace {

std::string in_inches(const std::string& targets) {
  return "trammel: 1\nunits: inch  # the jig's\n"
         "bike:\n"
         "  wheels: { rear: { bead_seat: 622, tyre_height: 2.25 }, front: { radius: 14.5 } }\n"
         "  front: { axle: [31, 1.25], head_angle: 66, travel: 5.5 }\n"
         "  cg: { x: 1, height: 43.3 }\n"
         "linkage:\n"
         "  points: { pivot: [0.4, 2.7], axle: [-17.1, 1.2], eye: [-6, 5.5], mount: [0.4, 10.2] }\n"
         "  members: { frame: [pivot, mount], swingarm: [pivot, axle, eye] }\n"
         "  axle: { point: axle, member: swingarm }\n"
         "shock: { between: [mount, eye], length: 7.94, stroke: 2.25 }\n"
         "vary: { pivot: { x: [0.4, 0.8], y: 2.7 } }\n"
         "targets:\n" +
         targets;
}

brief::Brief sound(const std::string& text) {
  brief::Reading reading = brief::read_text(text, "bike.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  return std::move(reading.brief);
}

TEST_CASE("brief: lengths in inches are read as what they are in mm", "[brief]") {
  const brief::Brief brief = sound(in_inches("  - { curve: travel, at: bottomed, floor: 5.5 }\n"));
  CHECK(brief.inches_too);
  CHECK(brief.layout.shock->length == 201.676);
  CHECK(brief.layout.shock->stroke == 57.15);
  CHECK(brief.layout.mechanism.points[0].x == 10.16);
  CHECK(brief.layout.rear_radius == 622.0 / 2.0 + 57.15);  // a bead seat is named in mm
  CHECK(brief.targets[0].wish.lo == 139.7);
}

TEST_CASE("brief: what a brief in inches leaves with a study is in mm, comments and all", "[brief]") {
  const brief::Brief brief = sound(in_inches("  - { curve: travel, at: bottomed, floor: 5.5 }  # as asked\n"));
  CHECK(brief.text.find("units: mm_and_inch  # the jig's\n") != std::string::npos);
  CHECK(brief.text.find("floor: 139.7 }  # as asked\n") != std::string::npos);
  const brief::Brief again = sound(brief.text);
  CHECK(again.text == brief.text);
  CHECK(again.inches_too);
  CHECK(again.layout.mechanism.points[3].y == brief.layout.mechanism.points[3].y);
}

TEST_CASE("brief: a target in inches is in its curve's or measure's unit only where that is mm", "[brief]") {
  const brief::Brief brief =
      sound(in_inches("  - { curve: anti_rise, at: { travel: 1 }, band: [50, 70] }\n"
                      "  - { curve: rearward, over: [0, 1], follow: [[0, 0], [1, 0.5]], tolerance: 0.1 }\n"
                      "  - { measure: crossing, curve: rearward, crosses: 0.2, floor: 2 }\n"
                      "  - { measure: crossing_fraction, curve: rearward, crosses: 0.2, floor: 0.4 }\n"
                      "  - { measure: slope, curve: rearward, ceiling: 0.3 }\n"));
  CHECK(brief.targets[0].at.amount == 25.4);
  CHECK(brief.targets[0].wish.hi == 70.0);
  CHECK(brief.targets[1].wish.path.back().second == 12.7);
  CHECK(brief.targets[1].tolerance == 2.54);
  CHECK(brief.targets[2].crosses == 5.08);
  CHECK(brief.targets[2].wish.lo == 50.8);
  CHECK(brief.targets[3].crosses == 5.08);
  CHECK(brief.targets[3].wish.lo == 0.4);
  CHECK(brief.targets[4].wish.hi == 0.3);
}

TEST_CASE("brief: what is out of range in inches is told in inches", "[brief]") {
  const auto reading = brief::read_text(
      edited(in_inches("  - { curve: travel, at: bottomed, floor: 5.5 }\n"), "length: 7.94", "length: 201.7"),
      "b.yaml");
  REQUIRE(reading.problems.size() == 1);
  CHECK(reading.problems[0].what ==
        "201.7 was given, which is out of range; allowed: a number (in), from 0.7875 to 59.0551");
}

TEST_CASE("brief: of a number in inches that does not fit another it is said that it stands in mm", "[brief]") {
  const auto reading = brief::read_text(
      edited(in_inches("  - { curve: travel, at: bottomed, floor: 5.5 }\n"), "stroke: 2.25", "stroke: 9"), "b.yaml");
  REQUIRE_FALSE(reading.ok());
  CHECK(reading.message() ==
        "b.yaml:11:55: shock.stroke: 228.6 was given, but the stroke must be below the length, 201.676; numbers "
        "without a unit are in mm\n");
}

TEST_CASE("brief: an alias in a brief in inches costs its comments, not its sense", "[brief]") {
  std::string text = in_inches("  - { curve: travel, at: bottomed, floor: 5.5 }\n");
  text = edited(text, "pivot: [0.4, 2.7]", "pivot: [&forward 0.4, 2.7]");
  text = edited(text, "mount: [0.4, 10.2]", "mount: [*forward, 10.2]");
  const brief::Brief brief = sound(text);
  CHECK(brief.layout.mechanism.points[3].x == 10.16);
  CHECK(sound(brief.text).layout.mechanism.points[3].x == 10.16);
}

TEST_CASE("brief: of a template's length in inches only what is no multiple of the bike's own is turned to mm",
          "[brief]") {
  CHECK(brief::scaled_times("axle_x + 0.1 wheel - 2", "25.4") == "axle_x + 0.1 wheel - 2 * 25.4");
  CHECK(brief::scaled_times("-3 / leverage + stroke", "25.4") == "-3 / leverage * 25.4 + stroke");
  CHECK(brief::scaled_times("1.5 + 2", "25.4") == "1.5 * 25.4 + 2 * 25.4");
}

}  // namespace
}  // namespace trammel::test
