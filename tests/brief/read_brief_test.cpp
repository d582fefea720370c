// What the search's part of a brief becomes.
#include <catch2/catch.hpp>

#include "brief/read.hpp"
#include "corpus.hpp"

namespace trammel::test {
namespace {

using objectives::Station;
using objectives::Wish;

brief::Brief brief_of(const std::string& text) {
  const auto reading = brief::read_text(text, "brief.yaml");
  INFO(reading.message());
  REQUIRE(reading.ok());
  return reading.brief;
}

/// The brief of the corpus with its search line taken out or replaced.
std::string with_search(const std::string& line) {
  const std::string text = base_text("brief");
  const std::size_t at = text.find("search:");
  return text.substr(0, at) + line + text.substr(text.find('\n', at) + 1);
}

TEST_CASE("varied points come in an order in which they can be placed") {
  const auto read = brief_of(base_text("brief"));
  const auto& names = read.layout.mechanism.point_names;
  std::vector<std::string> order;
  for (const auto& vary : read.vary) order.push_back(names[static_cast<std::size_t>(vary.point)]);
  CHECK(order == std::vector<std::string>{"main", "stay", "eye", "mount"});

  const auto& main = std::get<brief::Cartesian>(read.vary[0].place);
  CHECK(main.x.lo == -30.0);
  CHECK(main.x.hi == 20.0);
  CHECK(main.y.hi == 90.0);
  const auto& stay = std::get<brief::Cartesian>(read.vary[1].place);
  CHECK(stay.x.fixed());
  CHECK(stay.x.lo == -392.0);  // as drawn
  CHECK(stay.y.fixed());
  CHECK(stay.y.lo == 21.0);
  const auto& eye = std::get<brief::Polar>(read.vary[2].place);
  CHECK(names[static_cast<std::size_t>(eye.from)] == "rocker");
  CHECK_FALSE(eye.length_is_shock);
  CHECK(eye.length.lo == 40.0);
  CHECK(eye.angle.hi == 100.0);
  const auto& mount = std::get<brief::Polar>(read.vary[3].place);
  CHECK(names[static_cast<std::size_t>(mount.from)] == "eye");
  CHECK(mount.length_is_shock);
  CHECK(mount.angle.lo == -75.0);
}

TEST_CASE("what a polar entry leaves out stays as drawn") {
  // main (-8, 55) from stay (-392, 20): 384 across and 35 up.
  const auto text = edited(base_text("brief"), "main: { x: [-30, 20], y: [30, 90] }\n  stay",
                           "main: { from: stay, angle: [0, 10] }\n  stay");
  const auto read = brief_of(text);
  for (const auto& vary : read.vary) {
    const auto* polar = std::get_if<brief::Polar>(&vary.place);
    if (polar == nullptr || polar->from != 1) continue;
    CHECK(polar->length.fixed());
    CHECK(polar->length.lo == Approx(std::hypot(384.0, 35.0)));
    return;
  }
  FAIL("main is not varied");
}

TEST_CASE("chosen shocks") {
  const auto read = brief_of(base_text("brief"));
  REQUIRE(read.shocks.size() == 2);
  CHECK(read.shocks[0].length == 210.0);
  CHECK(read.shocks[1].stroke == 57.5);
}

TEST_CASE("targets") {
  const auto targets = brief_of(base_text("brief")).targets;
  REQUIRE(objectives::own_targets(targets) == 7 + 4);  // the chain's rules: clearance in three gears, capacity

  CHECK(targets[0].name == "climbing");
  CHECK(targets[0].curve == bike::CurveKey{bike::Curve::anti_squat, 2});
  CHECK(targets[0].at.kind == Station::Kind::sag);
  CHECK(targets[0].wish.kind == Wish::Kind::band);
  CHECK(targets[0].wish.lo == 98.0);
  CHECK(targets[0].wish.hi == 108.0);
  CHECK(targets[0].tolerance == 2.0);
  CHECK(targets[0].weight == 1.0);
  CHECK(targets[0].must);
  CHECK_FALSE(targets[0].over);
  CHECK_FALSE(targets[0].measure);

  CHECK(targets[1].name == "chain_growth 32x18 at bottomed");
  CHECK(targets[1].at.kind == Station::Kind::bottomed);
  CHECK(targets[1].wish.kind == Wish::Kind::ceiling);
  CHECK(targets[1].wish.hi == 22.0);
  CHECK(targets[1].weight == 2.0);
  CHECK(targets[1].tolerance == bike::record(bike::Curve::chain_growth).tolerance);
  CHECK_FALSE(targets[1].must);

  REQUIRE(targets[2].over);
  CHECK(targets[2].over->from == 0.0);
  CHECK(targets[2].over->to == 1.0);
  CHECK(targets[2].wish.kind == Wish::Kind::follow);
  CHECK(targets[2].wish.path == std::vector<std::pair<double, double>>{{0.0, 2.9}, {1.0, 2.3}});

  REQUIRE(targets[3].measure);
  CHECK(targets[3].at.kind == Station::Kind::topped_out);
  CHECK(targets[3].to.kind == Station::Kind::bottomed);
  CHECK(targets[3].tolerance == 0.01);

  CHECK(targets[4].at.kind == Station::Kind::travel);
  CHECK(targets[4].at.amount == 60.0);
  CHECK(targets[4].wish.kind == Wish::Kind::floor);
  CHECK(targets[4].wish.lo == 3.0);

  CHECK(targets[5].at.kind == Station::Kind::fraction);
  CHECK(targets[5].wish.kind == Wish::Kind::value);
  CHECK(targets[5].wish.lo == 120.0);
  CHECK(targets[5].wish.hi == 120.0);

  CHECK(targets[6].at.amount == 0.2);
}

/// The targets of the corpus' brief with its first one replaced.
std::vector<objectives::Target> with_target(const std::string& text) {
  const std::string first =
      "{ name: climbing, curve: anti_squat, gear: 32x50, at: sag, band: [98, 108], tolerance: 2, must: true }";
  return brief_of(edited(base_text("brief"), first, text)).targets;
}

TEST_CASE("targets on measures") {
  using objectives::Measure;
  const auto mean = with_target("{ curve: leverage, measure: mean, over: [0.2, 0.9], ceiling: 2.8 }")[0];
  CHECK(mean.measure == Measure::mean);
  CHECK(mean.curve == bike::CurveKey{bike::Curve::leverage});
  CHECK(mean.over->from == 0.2);
  CHECK(mean.tolerance == bike::record(bike::Curve::leverage).tolerance);
  CHECK(mean.name == "mean of leverage over 0.2 to 0.9");

  const auto slope = with_target("{ curve: anti_squat, gear: 32x50, measure: slope, ceiling: 0 }")[0];
  CHECK(slope.over->from == 0.0);
  CHECK(slope.over->to == 1.0);
  CHECK(slope.tolerance == 0.01 * bike::record(bike::Curve::anti_squat).tolerance);
  CHECK(slope.name == "slope of anti_squat 32x50 over 0 to 1");
  CHECK(unit_of(slope) == "%/mm");

  const auto difference = with_target("{ curve: chainstay, measure: difference, from: sag, ceiling: 12 }")[0];
  CHECK(difference.at.kind == Station::Kind::sag);
  CHECK(difference.to.kind == Station::Kind::bottomed);
  CHECK_FALSE(difference.over);
  CHECK(difference.name == "difference of chainstay, sag to bottomed");

  const auto crossing =
      with_target("{ curve: anti_squat, gear: 32x18, measure: crossing, crosses: 100, floor: 40 }")[0];
  CHECK(crossing.crosses == 100.0);
  CHECK(crossing.tolerance == 2.0);
  CHECK(crossing.name == "crossing of anti_squat 32x18 at 100");
  CHECK(unit_of(crossing) == "mm");

  const auto sag = with_target("{ measure: sag_travel, band: [40, 50] }")[0];
  CHECK(sag.curve == bike::CurveKey{bike::Curve::spring_support});
  CHECK(sag.crosses == objectives::resting_support);
  CHECK(sag.name == "sag_travel");

  const auto ramp = with_target("{ measure: bottom_out_ramp, floor: 1.5 }")[0];
  CHECK(ramp.curve == bike::CurveKey{bike::Curve::wheel_force});
  CHECK(ramp.at.amount == 0.8);
  CHECK(ramp.to.kind == Station::Kind::bottomed);
  const auto support = with_target("{ measure: mid_stroke_support, floor: 1.5 }")[0];
  CHECK(support.at.kind == Station::Kind::sag);
  CHECK(support.to.amount == 0.5);

  const auto path = with_target("{ measure: path_deviation, path: [[-437, 30], [-445, 100]], value: 0 }")[0];
  CHECK(path.path == std::vector<std::pair<double, double>>{{-437.0, 30.0}, {-445.0, 100.0}});
  CHECK(path.curve == bike::CurveKey{bike::Curve::axle_x});
}

TEST_CASE("targets on several gears and on linkage points") {
  const auto all = with_target("{ curve: kickback, gears: all, at: bottomed, ceiling: 25 }")[0];
  CHECK(all.gears == std::vector<int>{0, 1, 2});
  CHECK(all.curve.gear == 0);
  CHECK(all.name == "kickback 32x18, 32x28, 32x50 at bottomed");
  const auto two = with_target(
      "{ curve: anti_squat, measure: gear_spread, gears: [32x50, 32x18], over: [0.1, 0.4], "
      "ceiling: 20 }")[0];
  CHECK(two.gears == std::vector<int>{2, 0});
  CHECK(two.over->to == 0.4);

  const auto point = with_target("{ curve: point_x, point: eye, at: bottomed, ceiling: 40 }")[0];
  const auto& names = brief_of(base_text("brief")).layout.mechanism.point_names;
  CHECK(names[static_cast<std::size_t>(point.curve.a)] == "eye");
  CHECK(point.curve.b == -1);
  CHECK(point.name == "point_x eye at bottomed");
  const auto length = with_target("{ curve: point_distance, points: [rocker, eye], at: sag, ceiling: 70 }")[0];
  CHECK(names[static_cast<std::size_t>(length.curve.a)] == "rocker");
  CHECK(names[static_cast<std::size_t>(length.curve.b)] == "eye");

  const auto force = with_target("{ curve: pivot_force, pivot: rocker, load: stop, over: [0, 1], ceiling: 6000 }")[0];
  CHECK(names[static_cast<std::size_t>(force.curve.a)] == "rocker");
  CHECK(force.curve.load == 1);
  CHECK(force.curve.b == -1);
  CHECK(force.name == "pivot_force rocker stop over 0 to 1");
}

TEST_CASE("the kind of bike") {
  CHECK_FALSE(brief_of(base_text("brief")).layout.kind);
  const auto read = brief_of(edited(base_text("brief"), "bike:\n", "bike:\n  kind: e_bike\n"));
  CHECK(read.layout.kind == bike::Kind::e_bike);
}

TEST_CASE("made names are unique and leave given ones alone") {
  auto text = edited(base_text("brief"), "  - { curve: chain_growth",
                     "  - { curve: bb_height, at: sag, floor: 300 }\n  - { curve: bb_height, at: sag, ceiling: 350 }\n"
                     "  - { curve: chain_growth");
  text = edited(text, "name: climbing", "name: bb_height at sag");
  const auto targets = brief_of(text).targets;
  CHECK(targets[0].name == "bb_height at sag");
  CHECK(targets[1].name == "bb_height at sag (2)");
  CHECK(targets[2].name == "bb_height at sag (3)");
}

TEST_CASE("packaging and search") {
  const auto read = brief_of(base_text("brief"));
  REQUIRE(read.packaging.boxes.size() == 2);
  CHECK(read.packaging.boxes[0].point == 0);
  REQUIRE(read.packaging.boxes[0].x);
  CHECK(read.packaging.boxes[0].x->lo == -30.0);
  CHECK_FALSE(read.packaging.boxes[1].x);
  REQUIRE(read.packaging.boxes[1].y);
  CHECK(read.packaging.boxes[1].y->hi == 420.0);
  CHECK(read.packaging.least_pivot_distance == 30.0);
  CHECK(read.packaging.least_transmission_angle == 20.0);

  const auto& search = read.search;
  CHECK(search.seed == 1);
  CHECK(search.units == 16);
  CHECK(search.samples == 1024);
  CHECK(search.refine == 4);
  CHECK(search.evaluations == 200);
  CHECK(search.algorithm == "LD_SLSQP");
  CHECK(search.shortlist == 6);
  CHECK(search.distinct == 0.1);

  REQUIRE(read.tolerances);
  const auto& tolerances = *read.tolerances;
  const auto eye = static_cast<std::size_t>(read.layout.mechanism.drive.b);
  REQUIRE(tolerances.points.size() == read.layout.mechanism.points.size());
  for (std::size_t p = 0; p < tolerances.points.size(); ++p) {
    const bool own = read.layout.mechanism.point_names[p] == "eye";
    CHECK(tolerances.points[p].x == (own ? 0.1 : 0.2));
    CHECK(tolerances.points[p].y == (own ? 0.15 : 0.2));
  }
  CHECK(read.layout.mechanism.point_names[eye] == "eye");
  CHECK(tolerances.shock_length == 0.5);
  CHECK(tolerances.rear_wheel == 2.0);
  CHECK(tolerances.front_wheel == 3.0);
  CHECK(tolerances.law == brief::Tolerances::Law::normal);
  CHECK(tolerances.sigmas == 3.0);
  CHECK(tolerances.samples == 500);
}

TEST_CASE("search has a default for everything, and seeds keep every digit") {
  const brief::SearchOptions expected;
  const auto search = brief_of(with_search("search: {}\n")).search;
  CHECK(search.seed == expected.seed);
  CHECK(search.units == expected.units);
  CHECK(search.algorithm == expected.algorithm);
  CHECK(search.distinct == expected.distinct);
  CHECK(search.distinct_curves == expected.distinct_curves);
  CHECK_FALSE(search.rank_by_yield);
  CHECK_FALSE(search.yield);
  CHECK(brief_of(with_search("search: { seed: 9007199254740991 }\n")).search.seed == 9007199254740991u);
}

TEST_CASE("the text and the name of the file are kept") {
  const auto read = brief_of(base_text("brief"));
  CHECK(read.text == base_text("brief"));
  CHECK(read.file == "brief.yaml");
}

}  // namespace
}  // namespace trammel::test
