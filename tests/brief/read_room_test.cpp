// What a brief says about bodies, clearances, regions, lengths, usual shock sizes and the grid.
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "brief/read.hpp"
#include "brief/shock_sizes.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using bike::BodyKind;

namespace {

std::string corpus_text() {
  std::ifstream stream(test::in_tree("tests/brief/corpus/brief.yaml"));
  std::stringstream text;
  text << stream.rdbuf();
  return text.str();
}

std::string edited(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != text.npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("bodies, clearances, regions and lengths are read as written") {
  const brief::Reading reading = brief::read_text(corpus_text(), "room.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  const auto& packaging = reading.brief.packaging;
  const auto& names = reading.brief.layout.mechanism.point_names;
  REQUIRE(packaging.bodies.size() == 8);
  const std::vector<BodyKind> kinds{BodyKind::tyre, BodyKind::tube, BodyKind::polygon, BodyKind::circle,
                                    BodyKind::tube, BodyKind::tube, BodyKind::shock,   BodyKind::chain};
  for (std::size_t i = 0; i < kinds.size(); ++i) CHECK(packaging.bodies[i].kind == kinds[i]);
  const bike::Body& motor = packaging.bodies[2];
  REQUIRE(motor.spots.size() == 3);
  CHECK(motor.spots[1].at.x == 60.0);
  CHECK(motor.spots[1].at.y == -50.0);
  CHECK(names.at(static_cast<std::size_t>(motor.spots[2].point)) == "main");
  const bike::Body& link = packaging.bodies[4];
  CHECK(link.diameter == 22.0);
  REQUIRE(link.ends);
  CHECK(link.ends->x == 34.0);
  CHECK(link.ends->y == 30.0);
  const auto& members = reading.brief.layout.mechanism.members;
  CHECK(members.at(static_cast<std::size_t>(packaging.bodies[5].spots[0].member)).name == "chainstay");
  CHECK(names.at(static_cast<std::size_t>(packaging.bodies[6].eye)) == "mount");
  CHECK(packaging.bodies[6].length == 120.0);
  CHECK(packaging.bodies[6].shaft == 12.0);
  CHECK(packaging.bodies[7].gear == 0);
  REQUIRE(packaging.clearances.size() == 3);
  // The tyre from what is on the frame, by default, but for what the brief itself says.
  CHECK(packaging.clearances[2].origin == objectives::Origin::sound);
  CHECK(packaging.clearances[2].of == 0);
  CHECK(packaging.clearances[2].to == std::vector<int>{3});
  CHECK(packaging.clearances[0].to == std::vector<int>{1, 2});
  CHECK(packaging.clearances[0].least == 6.0);
  CHECK(packaging.clearances[1].to == std::vector<int>{0, 1, 2, 3, 5, 7});  // all but itself and the damper
  REQUIRE(packaging.keep_in.size() == 2);
  CHECK(packaging.keep_in[0].corners.size() == 4);
  CHECK(packaging.keep_in[0].least == 2.0);
  CHECK(packaging.keep_in[1].corners[2].x == 200.0);
  CHECK(packaging.keep_in[1].corners[2].y > 3000.0);  // no limit
  REQUIRE(packaging.lengths.size() == 1);
  CHECK(packaging.lengths[0].least == 40.0);
  CHECK(packaging.lengths[0].greatest == 300.0);
  CHECK(reading.brief.search.grid == 0.0);
}

TEST_CASE("usual shock sizes by a word, within limits, and a grid") {
  const std::string list = "    - { length: 210, stroke: 55 }\n    - { length: 230, stroke: 57.5 }\n";
  std::string text = edited(corpus_text(), "  shock:\n" + list,
                            "  shock: standard\n  shock_length: [200, 235]\n  shock_stroke: [54, 63]\n");
  text = edited(text, "distinct: 0.1 }", "distinct: 0.1, grid: 0.5 }");
  const brief::Reading reading = brief::read_text(text, "room.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  CHECK(reading.brief.search.grid == 0.5);
  CHECK(reading.brief.shocks.size() == 7);
  for (const brief::ShockSize& size : reading.brief.shocks) {
    CHECK(size.length >= 200.0);
    CHECK(size.length <= 235.0);
    CHECK(size.stroke >= 54.0);
    CHECK(size.stroke <= 63.0);
  }
  const auto all = brief::shock_sizes("standard").size();
  CHECK(brief::shock_sizes("metric").size() + brief::shock_sizes("trunnion").size() == all);
  for (const brief::ShockSize& size : brief::shock_sizes("trunnion")) {
    // Common practice, no source: a trunnion shock is 25 mm shorter than the one with two eyes and the same stroke.
    bool found = false;
    for (const brief::ShockSize& other : brief::shock_sizes("metric"))
      found = found || (other.length == size.length + 25.0 && other.stroke == size.stroke);
    CHECK(found);
  }
}
