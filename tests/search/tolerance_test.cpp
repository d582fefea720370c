// Frames built with errors: slopes against differences along another way, samples against slopes, and what is counted.
#include "search/tolerance.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bike/cases.hpp"
#include "search/built.hpp"
#include "search/reserve.hpp"
#include "search/score.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using search::Drawing;
using search::ToleranceSheet;
using test::relative;
using test::within;

namespace {

const auto no_stop = [] {};
const auto baseline = objectives::InstructionSet::baseline;

brief::Tolerances tolerances(const bike::Layout& layout, double points, double shock, double wheels) {
  brief::Tolerances out;
  out.points.assign(layout.mechanism.points.size(), {points, points});
  out.shock_length = shock;
  out.rear_wheel = out.front_wheel = wheels;
  return out;
}

Drawing drawing(const brief::Brief& brief) {
  return {brief.layout, brief.targets, brief.packaging, baseline};
}

/// The value of a target at one place, on a layout that stands by itself.
double value_at(const bike::Layout& layout, const brief::Brief& brief, std::size_t target, std::size_t place) {
  const bike::Model model = bike::make_model(layout);
  const objectives::Demands demands(model, brief.targets, brief.packaging);
  objectives::Assessor<double> assessor(demands);
  assessor.march(layout.mechanism.points);
  assessor.curves();
  return assessor.outcome().values[target][place];
}

/// The drawn layout with one coordinate off by `by`, through the settings of bike/cases.hpp.
bike::Layout off_by(bike::Layout layout, int address, double by) {
  const auto points = static_cast<int>(layout.mechanism.points.size());
  bike::Setting setting;
  setting.name = "off";
  setting.shock = bike::Shock{layout.shock->length, layout.shock->stroke, {}};
  if (address < 2 * points)
    setting.moves.emplace_back(address / 2, address % 2 == 0 ? bike::Point{by, 0.0} : bike::Point{0.0, by});
  if (address == 2 * points) setting.shock->length += by;
  if (address == 2 * points + 1) setting.rear_radius = layout.rear_radius + by;
  if (address == 2 * points + 2) layout.front_radius += by;
  layout.settings = {setting};
  return bike::layout_of(layout, {0, -1});
}

}  // namespace

TEST_CASE("a larger tyre comes so much closer to what it is to clear") {
  brief::Brief brief = test::quick_brief();
  bike::Body tyre, post;
  tyre.name = "tyre";
  tyre.kind = bike::BodyKind::tyre;
  post.name = "post";
  post.kind = bike::BodyKind::circle;
  post.spots = {bike::Spot{-1, brief.layout.mechanism.frame, {-40, 250}}};
  post.diameter = 30;
  brief.packaging.bodies = {tyre, post};
  brief.packaging.clearances = {{0, {1}, 0.0}};
  search::BuiltCase built(brief.layout, {}, brief.targets, brief.packaging, baseline);
  search::Errors errors{std::vector<bike::Point>(brief.layout.mechanism.points.size(), {0.0, 0.0})};
  const double drawn = built.build(errors).fit.room[0].value;
  errors.rear_wheel = 4.0;
  CHECK(built.build(errors).fit.room[0].value == within(drawn - 4.0, 1e-9));
  errors.rear_wheel = 0.0;
  CHECK(built.build(errors).fit.room[0].value == drawn);
}

TEST_CASE("slopes are those of differences through settings that move a point, change the shock or a wheel") {
  for (const brief::Brief& brief : {test::trail_brief(), test::wide_brief()}) {
    const auto points = brief.layout.mechanism.points.size();
    std::vector<int> addresses;
    for (int a = 0; a < static_cast<int>(2 * points + 3); ++a) addresses.push_back(a);
    search::BuiltCase built(brief.layout, {}, brief.targets, brief.packaging, baseline);
    const auto slopes = built.slopes(addresses);
    constexpr double h = 1e-3;
    for (std::size_t t = 0; t < brief.targets.size(); ++t) {
      for (std::size_t i : {std::size_t{0}, slopes[t].size() - 1}) {
        double greatest = 0.0;
        for (double slope : slopes[t][i]) greatest = std::max(greatest, std::abs(slope));
        for (int a : addresses) {
          INFO(brief.targets[t].name << ", place " << i << ", coordinate " << a);
          const auto at = [&](double by) { return value_at(off_by(brief.layout, a, by), brief, t, i); };
          // Of fourth order: near a dead point the slopes themselves change fast.
          const double difference = (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h);
          CHECK(slopes[t][i][static_cast<std::size_t>(a)] == within(difference, 1e-6 * greatest + 1e-9));
        }
      }
    }
  }
}

TEST_CASE("for small errors the sample spreads as the slopes say") {
  brief::Brief flip = test::brief_of(brief::read_file(test::in_tree("configs/flip-chip-140.yaml")));
  for (const brief::Brief& brief : {test::trail_brief(), flip}) {
    for (const auto law : {brief::Tolerances::Law::uniform, brief::Tolerances::Law::normal}) {
      brief::Tolerances small = tolerances(brief.layout, 0.02, 0.03, 0.1);
      small.law = law;
      small.samples = 3000;
      const ToleranceSheet sheet = search::study_tolerances(drawing(brief), small, 1, {}, no_stop);
      CHECK(sheet.unassembled == 0);
      REQUIRE(sheet.targets.size() == brief.targets.size());
      // What holds over the whole stroke is decided here and there: its slope changes from one place to another.
      for (std::size_t t = 0; t < objectives::own_targets(brief.targets); ++t) {
        INFO(brief.layout.title << ", " << brief.targets[t].name);
        const search::TargetSpread& s = sheet.targets[t];
        // Five standard errors; a normal sample's standard deviation has the relative error 1/√(2n), a uniform one's
        // less.
        CHECK(s.mean == within(s.nominal, 5.0 * s.first_order / std::sqrt(3000.0) + 1e-3 * s.first_order));
        CHECK(s.deviation == relative(s.first_order, 5.0 / std::sqrt(6000.0)));
        CHECK(s.low < s.mean);
        CHECK(s.high > s.mean);
      }
    }
  }
}

TEST_CASE("frames have the same errors on every instruction set, and yield is counted over the same frames") {
  const brief::Brief brief = test::trail_brief();
  brief::Tolerances some = tolerances(brief.layout, 0.5, 0.5, 2.0);
  some.samples = 200;
  std::optional<ToleranceSheet> first;
  for (const objectives::InstructionSet set : objectives::usable_instruction_sets()) {
    const Drawing on{brief.layout, brief.targets, brief.packaging, set};
    const ToleranceSheet sheet =
        search::study_tolerances(on, some, 7, {{bike::Curve::leverage}, {bike::Curve::anti_squat, 0}}, no_stop);
    CHECK(search::yield_of(on, some, 7, no_stop).kept == sheet.yield.kept);
    if (!first) first = sheet;
    for (std::size_t t = 0; t < sheet.targets.size(); ++t) {
      CHECK(sheet.targets[t].mean == first->targets[t].mean);
      CHECK(sheet.targets[t].deviation == first->targets[t].deviation);
      CHECK(sheet.targets[t].met.kept == first->targets[t].met.kept);
      CHECK(sheet.targets[t].slopes == first->targets[t].slopes);
    }
    REQUIRE(sheet.bands.size() == 2);
    CHECK(sheet.bands[1].low == first->bands[1].low);
    for (std::size_t i = 0; i < sheet.fractions.size(); ++i) CHECK(sheet.bands[0].low[i] < sheet.bands[0].high[i]);
  }
  // Frame by frame, in any order.
  const search::Errors third = search::errors_of(some, 7, 3), again = search::errors_of(some, 7, 3);
  const search::Errors other = search::errors_of(some, 7, 4), seeded = search::errors_of(some, 8, 3);
  CHECK(third.points[2].x == again.points[2].x);
  CHECK(third.points[2].x != other.points[2].x);
  CHECK(third.points[2].x != seeded.points[2].x);
  CHECK(std::abs(third.shock_length) <= 0.5);
  // A ± that is taken away leaves all other errors as they were.
  brief::Tolerances fewer = some;
  fewer.points[0] = {0.0, 0.0};
  CHECK(search::errors_of(fewer, 7, 3).points[0].x == 0.0);
  CHECK(search::errors_of(fewer, 7, 3).points[2].x == third.points[2].x);
}

TEST_CASE("a frame that does not assemble keeps no requirement, and leaves no number behind") {
  const brief::Brief brief = test::trail_brief();
  brief::Tolerances wild = tolerances(brief.layout, 60.0, 0.0, 0.0);
  wild.samples = 300;
  const ToleranceSheet sheet = search::study_tolerances(drawing(brief), wild, 1, {{bike::Curve::travel}}, no_stop);
  CHECK(sheet.unassembled > 0);
  CHECK(sheet.unassembled < 300);
  CHECK(sheet.yield.kept + sheet.unassembled <= 300);
  for (const search::TargetSpread& s : sheet.targets) {
    CHECK(s.met.kept + sheet.unassembled <= 300);
    for (double x : {s.mean, s.deviation, s.low, s.high, s.first_order}) CHECK(std::isfinite(x));
  }
}

TEST_CASE("effects come greatest first, and without tolerances by the millimetre") {
  const brief::Brief brief = test::trail_brief();
  const ToleranceSheet sheet = search::study_slopes(drawing(brief));
  CHECK(sheet.yield.of == 0);
  REQUIRE(sheet.coordinates.size() == 2 * brief.layout.mechanism.points.size() + 3);
  REQUIRE(sheet.effects.size() == sheet.coordinates.size() * brief.targets.size());
  for (std::size_t i = 0; i < sheet.effects.size(); ++i) {
    const search::Effect& e = sheet.effects[i];
    if (i > 0) CHECK(e.tolerances <= sheet.effects[i - 1].tolerances);
    CHECK(e.slope == sheet.targets[e.target].slopes[e.coordinate]);
    CHECK(e.tolerances == within(std::abs(e.slope) / brief.targets[e.target].tolerance, 1e-12));
  }
}

TEST_CASE("with tolerances an effect is what an error of that size does, in the target's tolerance") {
  const brief::Brief brief = test::trail_brief();
  brief::Tolerances tolerances;
  tolerances.points.assign(brief.layout.mechanism.points.size(), {0.2, 0.3});
  tolerances.shock_length = 0.5;
  tolerances.samples = 2;
  const ToleranceSheet sheet = search::study_tolerances(drawing(brief), tolerances, 1, {}, no_stop);
  REQUIRE_FALSE(sheet.effects.empty());
  for (const search::Effect& e : sheet.effects) {
    const search::Coordinate& coordinate = sheet.coordinates[e.coordinate];
    INFO(coordinate.name);
    const double error = coordinate.name.ends_with(".x")     ? 0.2
                         : coordinate.name.ends_with(".y")   ? 0.3
                         : coordinate.name == "shock length" ? 0.5
                                                             : 0.0;
    CHECK(coordinate.plus_minus == error);
    CHECK(e.tolerances == within(std::abs(e.slope) * error / brief.targets[e.target].tolerance, 1e-12));
  }
}

TEST_CASE("standard deviations for a yield are those of Boole's inequality") {
  CHECK(search::deviations_for(0.95, 1) == within(1.644854, 1e-6));  // tables of the normal distribution
  CHECK(search::deviations_for(0.95, 5) == within(2.326348, 1e-6));  // 1 − 0.05/5 = 0.99
  CHECK(search::deviations_for(0.5, 0) == within(0.0, 1e-9));
}

TEST_CASE("a reserve for errors draws in every rule on distances, none beyond what it leaves") {
  brief::Brief brief = test::trail_brief();
  brief.tolerances = tolerances(brief.layout, 0.3, 0.0, 0.0);
  brief.search.yield = 0.95;
  objectives::Packaging& room = brief.packaging;
  for (const char* name : {"main", "tail"}) {
    bike::Body& boss = room.bodies.emplace_back();
    boss.name = name;
    boss.diameter = 20.0;
    boss.spots = {{test::point_named(brief.layout.mechanism, name), -1, {}}};
  }
  room.clearances = {{0, {1}, 5.0}};
  room.keep_in = {{0, {{-500.0, -500.0}, {500.0, -500.0}, {500.0, 500.0}, {-500.0, 500.0}}, 2.0}};
  room.lengths = {{0, 3, 100.0, 400.0}, {0, 3, 250.0, 250.1}};
  const search::Setup setup(brief);
  const std::vector<double> x(static_cast<std::size_t>(setup.design.size()), 0.5);
  const auto reserve = search::reserve_at(setup, 0, x);
  const auto musts = std::count_if(brief.targets.begin(), brief.targets.end(), [](const auto& t) { return t.must; });
  // Even within ±0.3: the deviation is 0.3/√3; of a distance of two points √2 of it.
  // Not less than the floor of the must margin: a quarter of the depth of 4 mm.
  const double off = std::max(1.0, search::deviations_for(0.95, static_cast<int>(musts)) * 0.3 / std::sqrt(3.0));
  const objectives::Packaging& drawn = reserve->packaging;
  CHECK(*drawn.least_pivot_distance == within(32.0 + std::sqrt(2.0) * off, 1e-12));
  CHECK(drawn.clearances[0].least == within(5.0 + std::sqrt(2.0) * off, 1e-12));
  CHECK(drawn.keep_in[0].least == within(2.0 + off, 1e-12));
  CHECK(*drawn.lengths[0].least == within(100.0 + std::sqrt(2.0) * off, 1e-12));
  CHECK(*drawn.lengths[0].greatest == within(400.0 - std::sqrt(2.0) * off, 1e-12));
  CHECK(*drawn.lengths[1].least < *drawn.lengths[1].greatest);
}

TEST_CASE("a search for yield builds more frames that keep the requirements") {
  brief::Brief plain = test::quick_brief();
  plain.tolerances = tolerances(plain.layout, 0.5, 0.5, 2.0);
  plain.tolerances->samples = 400;
  brief::Brief robust = plain;
  robust.search.yield = 0.95;
  const auto best_yields = [](const brief::Brief& brief) {
    const search::Setup setup(brief);
    std::vector<search::Share> out;
    for (int unit = 0; unit < 3; ++unit) {
      search::Share best;
      const store::UnitRow found = *search::run_unit(setup, unit, nullptr);
      for (const store::LayoutRow& row : found.layouts) {
        const bike::Layout layout = setup.design.layout(row.design, static_cast<int>(row.choice));
        const search::Share yield = search::yield_of({layout, brief.targets, brief.packaging, setup.instruction_set},
                                                     *brief.tolerances, 1, [] {});
        if (yield.kept >= best.kept) best = yield;
      }
      out.push_back(best);
    }
    return out;
  };
  const std::vector<search::Share> before = best_yields(plain), after = best_yields(robust);
  double gained = 0.0;
  for (std::size_t unit = 0; unit < before.size(); ++unit) {
    INFO("unit " << unit << ": " << before[unit].share() << " to " << after[unit].share());
    CHECK(after[unit].kept >= before[unit].kept);
    gained += after[unit].share() - before[unit].share();
  }
  CHECK(gained > 0.05);
}
