// Demands one by one: which there are, where the brief's text writes their limits, and briefs with some of them only.
#include "search/demand.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "brief/edit.hpp"
#include "brief/scalar.hpp"
#include "brief/yaml_loader.hpp"
#include "objectives/wish.hpp"
#include "search/limit.hpp"
#include "tests/search/briefs.hpp"

using namespace trammel;
using search::Demand;
using search::Limit;

namespace {

brief::Node tree_of(const std::string& text) {
  brief::Problems none;
  return *brief::load_yaml(text, none);
}

std::vector<Demand> of_brief(const brief::Brief& brief) {
  std::vector<Demand> out;
  for (const Demand& d : search::demands_of(brief))
    if (d.origin == objectives::Origin::brief) out.push_back(d);
  return out;
}

}  // namespace

TEST_CASE("demands of a brief, and a brief with some of them only") {
  const brief::Brief brief = test::trail_brief();
  const std::vector<Demand> all = of_brief(brief);
  std::vector<std::string> listed;
  for (const Demand& d : all) listed.push_back(d.name);
  CHECK(listed == std::vector<std::string>{"least transmission angle", "least pivot distance", "box of mount, x",
                                           "box of mount, y", "box of eye, x", "travel", "climbing", "chain", "support",
                                           "braking"});
  const brief::Brief none = search::reduced(brief, {});
  CHECK(none.targets.empty());
  CHECK_FALSE(none.packaging.least_pivot_distance);
  CHECK(none.packaging.least_transmission_angle < 1.0);
  const brief::Brief some = search::reduced(brief, {all[3], all[6]});
  REQUIRE(some.targets.size() == 1);
  CHECK(some.targets[0].name == "climbing");
  CHECK_FALSE(some.packaging.boxes[0].x);
  CHECK(some.packaging.boxes[0].y);
  const brief::Brief whole = search::reduced(brief, search::demands_of(brief));
  CHECK(whole.targets.size() >= 5);
  CHECK(whole.packaging.least_pivot_distance == brief.packaging.least_pivot_distance);
}

TEST_CASE("where each demand's limits are written: a number changed there changes that demand and no other") {
  // Of the two linkages the first lacks a point that a length is about.
  const std::string linkages = R"(trammel: 1
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [812, 32], head_angle: 64.8, travel: 160 }
  cg: { x: 25, height: 1110 }
drivetrain: { chainring: 32, gears: [50, 14], cassette: [10, 50], clear_of: [main] }
linkages: [single_pivot, four_bar_axle_on_coupler]
travel: 150
chainstay: 437
choose: { shock: [ { length: 230, stroke: 57.5 } ] }
targets:
  - { curve: travel, at: bottomed, value: 150, must: true }
  - { curve: leverage, over: [0, 1], follow: [[0, 3], [1, 2]], tolerance: 0.2, must: true }
  - { curve: anti_squat, gear: 32x50, at: sag, floor: 90, must: true }
packaging:
  derailleur_capacity: 60
  least_chain_clearance: 5
  bodies: { tyre: { part: rear_tyre }, tube: { from: [0, 100], to: [-100, 400], diameter: 35 } }
  clearances: [ { of: tyre, to: [tube], least: 4 } ]
  keep_in: [ { point: eye, x: [-200, 200] } ]
  lengths: [ { between: [rocker, eye], least: 20 }, { between: [mount, eye], greatest: 300 } ]
)";
  for (const std::string& text : {test::trail_brief().text, linkages}) {
    const brief::Brief brief = test::brief_of(brief::read_text(text, "brief.yaml"));
    const brief::Node tree = tree_of(brief.text);
    for (std::size_t l = 0; l < brief::linkages_of(brief).size(); ++l) {
      const brief::Brief& own = brief::linkages_of(brief)[l];
      for (const Demand& demand : search::demands_of(own)) {
        INFO(own.linkage << ": " << demand.name);
        const std::vector<Limit> limits = search::limits_of(demand, own, tree);
        REQUIRE(!limits.empty());
        for (const Limit& limit : limits) {
          INFO(limit.path);
          const double amount = limit.amount_for(demand.step);
          CHECK(limit.whole == (limit.unit == "teeth"));
          const brief::Reading given = brief::read_text(
              brief::with_changes(brief.text, {search::change_for(limit, amount, tree)}), "brief.yaml");
          REQUIRE(given.message() == "");
          const brief::Brief& looser = brief::linkages_of(given.brief)[l];
          // The demand's limits differ from what they were by the amount, in the way that it gives.
          const std::vector<Limit> after = search::limits_of(demand, looser, tree_of(given.brief.text));
          REQUIRE(after.size() == limits.size());
          for (std::size_t i = 0; i < limits.size(); ++i) {
            const double moved = limits[i].path == limit.path ? limit.way * amount : 0.0;
            CHECK(after[i].value == Approx(limits[i].value + moved).margin(1e-9));
          }
        }
      }
    }
  }
}

TEST_CASE("a demand that a layout tells gives way by what is added to what that layout has") {
  std::string text = test::trail_brief().text;
  const auto from = text.find("targets:\n"), to = text.find("packaging:");
  text.replace(from, to - from, R"(targets:
  - { curve: anti_squat, gear: 32x50, at: sag, of: drawn, plus: 20, as: floor, must: true }
  - { curve: chain_growth, gear: 32x14, at: bottomed, of: drawn, times: 0.8, as: ceiling, must: true }
  - { curve: anti_rise, at: sag, of: drawn, plus: [-5, 10], must: true }
  - { curve: chainstay, at: topped_out, of: drawn, times: [0.99, 1.02], must: true }
  - { curve: axle_x, at: topped_out, of: drawn, times: [0.99, 1.02], plus: 1, must: true }
  - { curve: leverage, over: [0, 1], of: drawn, as: ceiling, must: true }
  - { curve: travel, at: bottomed, of: drawn, must: true }
)");
  const brief::Brief brief = test::brief_of(brief::read_text(text, "brief.yaml"));
  const brief::Node tree = tree_of(brief.text);
  const std::vector<std::vector<std::string>> paths{
      {"plus"}, {"plus"},     {"plus[0]", "plus[1]"}, {"plus[0]", "plus[1]"}, {"plus[0]", "plus[1]"},
      {"plus"}, {"tolerance"}};
  std::size_t seen = 0;
  for (const Demand& demand : of_brief(brief)) {
    if (demand.rule) continue;
    INFO(demand.name);
    const std::vector<Limit> limits = search::limits_of(demand, brief, tree);
    REQUIRE(limits.size() == paths[demand.index].size());
    ++seen;
    const objectives::Allowed before = objectives::allowed_at(brief.targets[demand.index], 0.5);
    for (std::size_t i = 0; i < limits.size(); ++i) {
      const Limit& limit = limits[i];
      CHECK(limit.path == "targets[" + std::to_string(demand.index) + "]." + paths[demand.index][i]);
      const double amount = limit.amount_for(demand.step);
      const brief::Reading given =
          brief::read_text(brief::with_changes(brief.text, {search::change_for(limit, amount, tree)}), "brief.yaml");
      REQUIRE(given.message() == "");
      // What is allowed grows by the amount on that side alone.
      const objectives::Allowed after = objectives::allowed_at(given.brief.targets[demand.index], 0.5);
      const bool low = limit.way < 0 || limit.around, high = limit.way > 0;
      if (std::isfinite(before.lo)) CHECK(before.lo - after.lo == Approx(low ? amount : 0.0).margin(1e-9));
      if (std::isfinite(before.hi)) CHECK(after.hi - before.hi == Approx(high ? amount : 0.0).margin(1e-9));
    }
  }
  CHECK(seen == paths.size());
}

TEST_CASE("an amount is rounded so that it holds as printed") {
  const Limit percent{.path = "targets[0].band[0]", .value = 96.0, .way = -1, .unit = "%", .decimals = 1};
  CHECK(percent.amount_for(12.01) == 12.1);
  CHECK(percent.amount_for(12.1) == 12.1);
  CHECK(percent.amount_for(1e-9) == 0.1);
  CHECK(percent.given(12.1) == 83.9);
  const Limit teeth{.path = "packaging.derailleur_capacity",
                    .value = 41.0,
                    .way = 1,
                    .unit = "teeth",
                    .scale = 6.35,
                    .whole = true,
                    .decimals = 0};
  CHECK(teeth.amount_for(6.35) == 1.0);
  CHECK(teeth.amount_for(6.4) == 2.0);
  CHECK(teeth.given(2.0) == 43.0);
}
