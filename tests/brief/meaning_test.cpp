// Two briefs say the same or differ by what they mean, not by how they are written.
#include "brief/meaning.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "brief/read.hpp"
#include "tests/support/tree.hpp"

using trammel::brief::Difference;
using trammel::brief::differences;
using trammel::brief::meaning_text;

namespace {

const std::string trail = trammel::brief::read_file(trammel::test::in_tree("configs/trail-150.yaml")).brief.text;

std::string changed(const std::string& old, const std::string& fresh) {
  std::string text = trail;
  REQUIRE(text.find(old) != std::string::npos);
  return text.replace(text.find(old), old.size(), fresh);
}

/// The one difference that a change makes, as "path: before → after".
std::string difference(const std::string& old, const std::string& fresh) {
  const std::vector<Difference> all = differences(trail, changed(old, fresh));
  REQUIRE(all.size() == 1);
  return all[0].path + ": " + all[0].before + " → " + all[0].after;
}

}  // namespace

TEST_CASE("what does not change a brief's meaning") {
  for (const auto& [old, fresh] : std::vector<std::pair<std::string, std::string>>{
           {"trammel: 1", "# a comment\ntrammel: 1   # and another"},
           {"title: Workshop trail bike, 150 mm", "title: \"Workshop trail bike, 150 mm\""},
           {"  length: 230\n  stroke: 57.5\n", "  stroke: 5.75e1\n  length: 230.0\n"},
           {", follows: matched", ""},
           {"least_pivot_distance: 32", "least_pivot_distance: 32.00"},
           {"{ fraction: 0.30, of: wheel }", "{ fraction: .3 }"},
           {"weight: 2 }", "weight: 2, must: false }"},
           {"mount: [142, 221.1]", "mount:\n      - 142\n      - 221.1"},
           {"seed: 150", "seed: 150, distinct: 0.2"},
       }) {
    INFO(fresh);
    CHECK(differences(trail, changed(old, fresh)).empty());
    CHECK(meaning_text(trail) == meaning_text(changed(old, fresh)));
  }
}

TEST_CASE("what does, by key") {
  CHECK(difference("band: [96, 108]", "band: [96, 109]") == "targets[1].band: [96, 108] → [96, 109]");
  CHECK(difference("mount: [142, 221.1]", "mount: [142, 221.2]") ==
        "linkage.points.mount: [142, 221.1] → [142, 221.2]");
  CHECK(difference("gears: [50, 24, 14]", "gears: [24, 50, 14]") == "drivetrain.gears: [50, 24, 14] → [24, 50, 14]");
  CHECK(difference("at: bottomed, band: [148", "at: sag, band: [148") == "targets[0].at: \"bottomed\" → \"sag\"");
  CHECK(difference("weight: 2", "must: true, weight: 2") == "targets[3].must:  → true");
  CHECK(difference("units: 48", "units: 64") == "search.units: 48 → 64");  // 64 is the default
  CHECK(difference("fraction: 0.30", "fraction: 0.31") == "sag.fraction: 0.3 → 0.31");
  const auto boxes = differences(trail, changed("\n    eye: { x: [-90, 20] }", ""));
  REQUIRE(boxes.size() == 2);
  CHECK(boxes[0].path == "packaging.boxes");
  CHECK(boxes[1].path == "packaging.boxes.eye.x");
  CHECK(boxes[1].after.empty());
  // Points and varied points are numbered in the order in which they stand.
  CHECK(difference("    main: [-8, 55]\n    stay: [-392, 20]", "    stay: [-392, 20]\n    main: [-8, 55]") ==
        "linkage.points: in this order: main, stay, axle, tail, rocker, eye, mount → "
        "in this order: stay, main, axle, tail, rocker, eye, mount");
  CHECK(meaning_text(trail) != meaning_text(changed("seed: 150", "seed: 151")));
}

TEST_CASE("a target more moves those behind it") {
  const auto all = differences(trail, changed("  - { name: climbing",
                                              "  - { curve: leverage, at: sag, floor: 2 }\n"
                                              "  - { name: climbing"));
  CHECK(all.size() > 3);
  CHECK(all.front().path.rfind("targets[1].", 0) == 0);
  CHECK(all.back().path.rfind("targets[11].", 0) == 0);
}

TEST_CASE("what is no brief has no meaning") {
  CHECK_THROWS_AS(meaning_text("a: [1"), std::invalid_argument);
}
