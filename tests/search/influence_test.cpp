// What each variable does to each target: against differences of layouts that are judged by themselves.
#include "search/influence.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "search/drawn.hpp"
#include "search/score.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Setup;

namespace {

/// The target's value in the case and gear and at the place that decides, on a layout of that x.
double achieved(const Setup& setup, std::vector<double> x, int choice, std::size_t variable, double by, std::size_t t) {
  x[variable] += by;
  bike::Layout layout = setup.design.with_choice(choice);
  setup.design.place<double>(x, choice, layout.mechanism.points);
  return search::judge_drawn(layout, setup.brief.targets, setup.brief.packaging).judged->targets[t].achieved;
}

void put(std::string& text, const std::string& old, const std::string& now) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  text.replace(at, old.size(), now);
}

/// Every effect of every target at one place against central differences.
void compare(const brief::Brief& brief) {
  const Setup setup(brief);
  const auto influence = search::influence_of(setup);
  REQUIRE(influence);
  REQUIRE(influence->targets.size() == brief.targets.size());
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    if (brief.targets[t].over || brief.targets[t].measure) continue;  // the deciding place may change
    CAPTURE(brief.targets[t].name);
    for (std::size_t v = 0; v < influence->drawn.x.size(); ++v) {
      CAPTURE(setup.design.variables()[v].name);
      const auto at = [&](double by) { return achieved(setup, influence->drawn.x, influence->drawn.choice, v, by, t); };
      constexpr double h = 1e-4;
      const double slope = (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h);
      CHECK(influence->targets[t].effects[v] == test::within(slope, 1e-5 * (1.0 + std::abs(slope))));
    }
  }
}

}  // namespace

TEST_CASE("effects are the slopes over whole ranges") {
  compare(test::trail_brief());
}

TEST_CASE("of several cases the slopes are those of the case that decides") {
  compare(test::brief_of(brief::read_file(test::in_tree("configs/flip-chip-140.yaml"))));
}

TEST_CASE("the drawn layout is found among those that the ranges hold") {
  for (const char* file : {"configs/trail-150.yaml", "configs/downhill-200.yaml", "configs/kids-100.yaml"}) {
    CAPTURE(file);
    const brief::Brief brief = test::brief_of(brief::read_file(test::in_tree(file)));
    const Setup setup(brief);
    const search::DrawnDesign drawn = search::drawn_design(setup);
    CHECK(drawn.off < 0.5);  // a mount is drawn at the shock's length to half a millimetre
    std::vector<bike::Point> placed;
    setup.design.place<double>(drawn.x, drawn.choice, placed);
    const auto& points = brief.layout.mechanism.points;
    for (std::size_t p = 0; p < points.size(); ++p) CHECK(norm(placed[p] - points[p]) <= drawn.off);
  }
}

TEST_CASE("angles are read in the turn of their range, choices as near as they come") {
  std::string text = test::trail_brief().text;
  put(text, "length: shock, angle: [-65, -15]", "length: shock, angle: [295, 345]");
  put(text, "vary:\n", "choose: { shock: [ { length: 210, stroke: 55 }, { length: 230, stroke: 60 } ] }\nvary:\n");
  const brief::Brief brief = test::brief_of(brief::read_text(text, "turned.yaml"));
  const Setup setup(brief);
  const search::DrawnDesign drawn = search::drawn_design(setup);
  CHECK(drawn.choice == 1);  // 230 × 60 is nearest to the drawn 230 × 57.5
  const search::Variable& angle = setup.design.variables().back();
  REQUIRE(angle.name == "mount.angle");
  // atan2(221.1 − 355, 142 + 45) = −35.6°
  CHECK(angle.at(drawn.x.back()) ==
        test::within(360.0 + std::atan2(221.1 - 355.0, 187.0) * 180.0 / std::acos(-1.0), 1e-9));
}

TEST_CASE("links and shock mounts do nothing to the anti-squat of a single pivot") {
  // By definition: at a given height of the axle it follows from pivot, axle, wheels, chain and fork alone.
  std::string text = test::brief_of(brief::read_file(test::in_tree("configs/cross-country-110.yaml"))).text;
  put(text, "follows: matched", "follows: extended");
  put(text, "gear: 34x52, at: sag, band: [95, 115]", "gear: 34x52, at: { travel: 25 }, band: [95, 115]");
  const brief::Brief brief = test::brief_of(brief::read_text(text, "single.yaml"));
  const Setup setup(brief);
  const auto influence = search::influence_of(setup);
  REQUIRE(influence);
  std::size_t t = 0;
  while (brief.targets[t].name != "climbing") ++t;
  const search::Reach& reach = influence->targets[t];
  double sum = 0.0;
  for (std::size_t v = 0; v < reach.effects.size(); ++v) {
    const search::Variable& variable = setup.design.variables()[v];
    CAPTURE(variable.name);
    sum += std::abs(reach.effects[v]);
    if (search::point_of(variable) == "main") CHECK(std::abs(reach.effects[v]) > 1.0);
    if (search::point_of(variable) != "main") CHECK(std::abs(reach.effects[v]) < 1e-6);
  }
  CHECK(reach.most - reach.least == test::within(sum, 1e-9));  // the drawing lies within its ranges
  CHECK(reach.least < reach.value);
  CHECK(reach.value < reach.most);
  CHECK(influence->idle[t] == std::vector<std::string>{"foot", "tail", "rocker", "eye", "mount"});
  CHECK(reach.moved);
}

TEST_CASE("a drawing that does not assemble has no slopes, and is judged with its reason") {
  brief::Brief brief = test::trail_brief();
  for (brief::Vary& vary : brief.vary)
    if (auto* polar = std::get_if<brief::Polar>(&vary.place); polar != nullptr && !polar->length_is_shock)
      brief.layout.mechanism.points[static_cast<std::size_t>(vary.point)] = {-70.0, 309.0};  // an arm of 4 mm
  const Setup setup(brief);
  CHECK_FALSE(search::influence_of(setup));
  const search::Drawn drawn = search::judge_drawn(brief.layout, brief.targets, brief.packaging);
  CHECK_FALSE(drawn.moves());
  REQUIRE(drawn.cases.size() == 1);
  REQUIRE(drawn.cases.front().failure);
  CHECK(drawn.cases.front().failure->find("mm of wheel travel") != std::string::npos);
  CHECK(drawn.cases.front().topped_out->bb_height == test::within(339.0, 1e-9));
}
