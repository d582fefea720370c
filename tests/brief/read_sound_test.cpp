// What stands under `sound`: demands that hold unless a brief says otherwise.
#include <algorithm>
#include <catch2/catch.hpp>

#include "brief/read.hpp"
#include "corpus.hpp"
#include "objectives/sound.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using Catch::Matchers::Contains;

namespace {

const std::string trail = brief::read_file(test::in_tree("configs/trail-150.yaml")).brief.text;

brief::Reading with(const std::string& lines) {
  return brief::read_text(trail + lines, "sound.yaml");
}

const objectives::Target* find(const brief::Brief& brief, const std::string& name) {
  const auto found =
      std::find_if(brief.targets.begin(), brief.targets.end(), [&](const auto& t) { return t.name == name; });
  return found == brief.targets.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("a brief has what is sound by default, its own targets first") {
  const brief::Brief brief = with("").brief;
  const std::size_t own = objectives::own_targets(brief.targets);
  CHECK(own == 11);
  CHECK(brief.targets.size() == own + 7);
  REQUIRE(find(brief, "sound: anti-squat") != nullptr);
  CHECK(find(brief, "sound: anti-squat")->gears == std::vector<int>{0, 1, 2});
  CHECK(find(brief, "sound: anti-squat")->must);
  // The brief's own limits of packaging stand.
  CHECK(brief.packaging.least_pivot_distance == 32.0);
  CHECK(brief.packaging.pivot_distance_origin == objectives::Origin::brief);
  CHECK(brief.packaging.least_transmission_angle == 25.0);
  CHECK(brief.packaging.tyre_clearance == 4.0);
}

TEST_CASE("one is changed or dropped by its name, all by a word") {
  const brief::Reading changed =
      with("sound: { leverage_rise: 0.3, anti_squat_range: any, leverage_range: [1.5, 3.5] }\n");
  INFO(changed.message());
  REQUIRE(changed.ok());
  CHECK(find(changed.brief, "sound: rises of leverage")->wish.hi == 0.3);
  CHECK(find(changed.brief, "sound: anti-squat") == nullptr);
  CHECK(find(changed.brief, "sound: leverage")->wish.lo == 1.5);
  CHECK(find(changed.brief, "sound: anti-rise") != nullptr);

  const brief::Reading none = with("sound: any\n");
  REQUIRE(none.ok());
  CHECK(none.brief.targets.size() == objectives::own_targets(none.brief.targets));
  CHECK_FALSE(none.brief.packaging.tyre_clearance);
}

TEST_CASE("a demand has one place and a range that makes sense") {
  CHECK_THAT(with("sound: { pivot_distance: 30 }\n").message(),
             Contains("packaging.least_pivot_distance says it already"));
  CHECK_THAT(with("sound: { leverage_rize: 0.3 }\n").message(), Contains("leverage_rise"));
  CHECK_THAT(with("sound: { leverage_range: 3 }\n").message(), Contains("sound.leverage_range"));
  CHECK_THAT(with("sound: none\n").message(), Contains("sound"));
  const std::string layout = brief::read_file(test::in_tree("configs/layouts/single-pivot.yaml")).brief.text;
  CHECK_FALSE(brief::read_text(layout + "sound: any\n", "layout.yaml").ok());
  CHECK(brief::read_text(layout, "layout.yaml").brief.targets.empty());
}

// Found by tests/fuzz/brief_fuzz.cpp: the tyre's clearance, which is sound by default, was looked for among all
// clearances, also those of bodies that are none; read beyond a list, which assertions and sanitizers see.
TEST_CASE("a clearance of a body that is none, beside bodies on the frame that the tyre must clear", "[sound]") {
  const std::string text = test::edited(test::read_whole("configs/e-bike-140.yaml"), "    damper: {", "    dampebr: {");
  const brief::Reading reading = brief::read_text(text, "x.yaml");
  REQUIRE(reading.problems.size() == 1);
  CHECK_THAT(reading.problems[0].what, Contains("damper was given, but no body is named so"));
  CHECK_THAT(reading.problems[0].what, Contains("did you mean 'dampebr'?"));
}
