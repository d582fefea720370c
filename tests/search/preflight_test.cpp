// What is said of a brief before it is searched: proofs are right, and probes see what moves nothing.
#include "search/preflight.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/bounds.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using search::proven_conflicts;

namespace {

const std::string trail = test::trail_brief().text;

std::string changed(std::string text, const std::string& old, const std::string& fresh) {
  const auto at = text.find(old);
  if (at == std::string::npos) throw std::runtime_error("not there: " + old);
  return text.replace(at, old.size(), fresh);
}

/// The trail brief with one more target or two.
brief::Brief with_targets(const std::string& lines) {
  return test::brief_of(brief::read_text(changed(trail, "targets:\n", "targets:\n" + lines), "more.yaml"));
}

std::vector<std::string> proofs(const std::string& target_lines) {
  return proven_conflicts(with_targets(target_lines));
}

}  // namespace

TEST_CASE("a brief that can be met has no proof against it") {
  CHECK(proven_conflicts(test::trail_brief()).empty());
  CHECK(proven_conflicts(test::wide_brief()).empty());
  for (const char* file : {"enduro-170", "downhill-200", "cross-country-110"})
    CHECK(proven_conflicts(test::brief_of(brief::read_file(test::in_tree("configs/" + std::string(file) + ".yaml"))))
              .empty());
}

TEST_CASE("bands on one curve that exclude each other at a common place") {
  const struct {
    const char* a;
    const char* b;
    bool excluded;
  } cases[] = {
      {"curve: bb_height, at: sag, band: [300, 310]", "curve: bb_height, at: sag, floor: 311", true},
      {"curve: bb_height, at: sag, band: [300, 310]", "curve: bb_height, at: sag, floor: 310", false},
      // Sag is 30 % of wheel travel in this brief.
      {"curve: bb_height, at: sag, band: [300, 310]", "curve: bb_height, at: { fraction: 0.3 }, ceiling: 299", true},
      {"curve: bb_height, at: sag, band: [300, 310]", "curve: bb_height, at: { fraction: 0.31 }, ceiling: 299", false},
      {"curve: bb_height, at: bottomed, ceiling: 200", "curve: bb_height, over: [0.5, 1], floor: 201", true},
      {"curve: bb_height, at: bottomed, ceiling: 200", "curve: bb_height, over: [0.5, 0.9], floor: 201", false},
      {"curve: leverage, over: [0, 0.5], ceiling: 2.4", "curve: leverage, over: [0.5, 1], floor: 2.5", true},
      {"curve: leverage, over: [0, 0.5], ceiling: 2.4", "curve: leverage, over: [0.6, 1], floor: 2.5", false},
      {"curve: leverage, follow: [[0, 3], [0.5, 2], [1, 3]], tolerance: 0.1",
       "curve: leverage, over: [0.2, 0.8], floor: 2.5", true},
      {"curve: leverage, at: sag, floor: 2.5", "curve: motion_ratio, at: sag, floor: 0.41", true},  // 1/2.5 = 0.4
      {"curve: leverage, at: sag, floor: 2.5", "curve: motion_ratio, at: sag, floor: 0.39", false},
      // A ceiling alone lets the ratio be as small as it likes, and so its inverse as great.
      {"curve: leverage, at: sag, band: [2.5, 2.8]", "curve: motion_ratio, at: sag, ceiling: 0.5", false},
      {"curve: motion_ratio, at: sag, band: [0.36, 0.4]", "curve: leverage, at: sag, ceiling: 3", false},
      {"curve: anti_squat, gear: 32x50, at: topped_out, floor: 100",
       "curve: anti_squat, gear: 32x14, at: topped_out, ceiling: 90", false},
      {"measure: progressivity, band: [0.1, 0.12]", "measure: progressivity, from: topped_out, floor: 0.13", true},
      {"measure: progressivity, band: [0.1, 0.12]", "measure: progressivity, from: sag, floor: 0.13", false},
  };
  for (const auto& c : cases) {
    INFO(c.a << " against " << c.b);
    std::string lines;
    for (const auto& [name, wish] : {std::pair("first", c.a), std::pair("second", c.b)})
      lines += "  - { name: " + std::string(name) + ", " + wish + ", must: true }\n";
    // The brief's own targets out of the way.
    brief::Brief brief = with_targets(lines);
    brief.targets.resize(2);
    const std::vector<std::string> found = proven_conflicts(brief);
    REQUIRE(found.size() == (c.excluded ? 1 : 0));
    if (c.excluded) CHECK_THAT(found[0], Contains("'first' and 'second' exclude each other"));
    // Wishes may contradict each other: that is what weights are for.
    brief.targets[1].must = false;
    CHECK(proven_conflicts(brief).empty());
  }
}

TEST_CASE("values that a curve has by definition or by the ranges") {
  CHECK_THAT(
      proofs("  - { name: slack, curve: chain_growth, gear: 32x50, at: topped_out, floor: 1, must: true }\n").at(0),
      Contains("'slack' cannot be met: topped out the curve is 0 mm"));
  CHECK_THAT(proofs("  - { name: half, curve: travel, at: { travel: 75 }, floor: 80, must: true }\n").at(0),
             Contains("'half' cannot be met"));
  CHECK_THAT(proofs("  - { name: all, curve: shock, at: bottomed, ceiling: 50, must: true }\n").at(0),
             Contains("bottomed the curve is 57.5 mm"));
  // The axle is fixed at (−437, 32), 438.2 mm from the bottom bracket.
  CHECK_THAT(proofs("  - { name: short, curve: chainstay, at: topped_out, ceiling: 438, must: true }\n").at(0),
             Contains("'short' cannot be met"));
  CHECK(proofs("  - { name: short, curve: chainstay, at: topped_out, ceiling: 439, must: true }\n").empty());
  // 57.5 mm of stroke at no more than 2.5 give no more than 143.75 mm, and 148 are demanded.
  CHECK_THAT(proofs("  - { name: low, curve: leverage, over: [0, 1], ceiling: 2.5, must: true }\n").at(0),
             Contains("gives 0 to 143.75 mm of wheel travel"));
  CHECK(proofs("  - { name: low, curve: leverage, over: [0, 1], ceiling: 2.6, must: true }\n").empty());
  CHECK(proofs("  - { name: low, curve: leverage, over: [0.1, 1], ceiling: 2.5, must: true }\n").empty());
}

TEST_CASE("boxes and distances that the ranges do not allow") {
  const auto proven = [](const std::string& old, const std::string& fresh) {
    return proven_conflicts(test::brief_of(brief::read_text(changed(trail, old, fresh), "boxes.yaml")));
  };
  // The eye is 40 to 75 mm from the rocker, which lies between x = −95 and −40, at 15° to 110°.
  CHECK_THAT(proven("eye: { x: [-90, 20] }", "eye: { x: [33, 60] }").at(0),
             Contains("The box of eye cannot be entered"));
  CHECK(proven("eye: { x: [-90, 20] }", "eye: { x: [32, 60] }").empty());  // −40 + 75·cos 15° = 32.4
  CHECK_THAT(proven("eye: { x: [-90, 20] }", "main: { y: [100, 120] }").at(0), Contains("its y is"));
  CHECK_THAT(proven("least_pivot_distance: 32", "least_pivot_distance: 76").at(0),
             Contains("rocker and eye are at most 75"));
  CHECK(proven("least_pivot_distance: 32", "least_pivot_distance: 74").empty());
  // The eye's arm is 40 to 75 mm long.
  const std::string length = "least_pivot_distance: 32\n  lengths: [ { between: [rocker, eye], ";
  CHECK_THAT(proven("least_pivot_distance: 32", length + "least: 76 } ]").at(0),
             Contains("The length from rocker to eye cannot be kept"));
  CHECK_THAT(proven("least_pivot_distance: 32", length + "greatest: 39 } ]").at(0), Contains("at most 39 mm"));
  CHECK(proven("least_pivot_distance: 32", length + "least: 74, greatest: 75 } ]").empty());
}

TEST_CASE("no layout's point lies outside its bounds") {
  for (const brief::Brief& brief : {test::trail_brief(), test::wide_brief()}) {
    const search::Setup setup(brief);
    const std::vector<search::PointBounds> bounds = search::point_bounds(brief);
    std::mt19937_64 random(11);
    std::vector<double> x(static_cast<std::size_t>(setup.design.size()));
    int near_an_end = 0;
    for (int i = 0; i < 4000; ++i) {
      // Corners of the box as well as its inside.
      for (double& v : x)
        v = i % 2 == 0 ? static_cast<double>(random() % 2) : static_cast<double>(random() % 1001) / 1000.0;
      const auto points = setup.design.layout(x, 0).mechanism.points;
      for (std::size_t p = 0; p < points.size(); ++p) {
        CHECK((points[p].x >= bounds[p].x.lo && points[p].x <= bounds[p].x.hi));
        CHECK((points[p].y >= bounds[p].y.lo && points[p].y <= bounds[p].y.hi));
        near_an_end += points[p].x < bounds[p].x.lo + 0.01;
      }
    }
    CHECK(near_an_end > 0);  // and the bounds are not idle
  }
}

TEST_CASE("a demand that no variable moves, and a range without effect") {
  const brief::Brief shipped = test::trail_brief();
  const search::Setup fine(shipped);
  const search::Probe none = search::probe(fine);
  CHECK(none.sentences.empty());
  CHECK(none.assembled < 32);  // all has been seen to move before

  // A bracket on the frame that nothing asks about; the axle is not varied.
  std::string text = changed(trail, "    main: [-8, 55]", "    bracket: [50, 50]\n    main: [-8, 55]");
  text = changed(text, "frame: [main,", "frame: [bracket, main,");
  text = changed(text, "vary:\n", "vary:\n  bracket: { x: [40, 60] }\n");
  text =
      changed(text, "targets:\n", "targets:\n  - { name: rear end, curve: chainstay, at: topped_out, ceiling: 440 }\n");
  const brief::Brief brief = test::brief_of(brief::read_text(text, "idle.yaml"));
  const search::Setup setup(brief);
  const search::Probe found = search::probe(setup, 20);
  REQUIRE(found.sentences.size() == 2);
  CHECK(found.sentences[0] == "No variable moves 'rear end' (tried at 20 layouts that assemble).");
  CHECK(found.sentences[1] ==
        "The range of bracket.x has no effect on any target or rule (tried at 20 layouts that assemble).");
  CHECK(search::probe(setup, 20).sentences == found.sentences);
}

TEST_CASE("ranges in which nothing assembles") {
  // An arm of 2 mm cannot move a shock by 57.5 mm.
  const std::string text = changed(trail, "length: [40, 75]", "length: [1, 2]");
  const brief::Brief brief = test::brief_of(brief::read_text(text, "stuck.yaml"));
  const search::Setup setup(brief);
  const search::Probe found = search::probe(setup, 4, 500);
  CHECK(found.assembled == 0);
  CHECK(found.sentences ==
        std::vector<std::string>{"None of 500 layouts spread over the ranges assembles through the whole stroke."});
}
