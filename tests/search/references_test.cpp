// Existing layouts beside a study's.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "search/chance.hpp"
#include "search/references.hpp"
#include "search/score.hpp"
#include "tests/search/briefs.hpp"

using namespace trammel;

namespace {

/// A reference that is the brief's own drawn layout.
search::Reference drawn(const brief::Brief& brief, const std::string& name) {
  return {name, brief.layout};
}

}  // namespace

TEST_CASE("quantiles of a class") {
  // NumPy's documentation of percentile gives 3.5 for the median of 1, 2, 3, 4, 7, 10 (from memory); the others by the
  // definition: the k-th of n lies at (k − 1)/(n − 1).
  const std::vector<double> values{1, 2, 3, 4, 7, 10};
  CHECK(search::quantile(values, 0.5) == Approx(3.5));
  CHECK(search::quantile(values, 0.0) == 1.0);
  CHECK(search::quantile(values, 1.0) == 10.0);
  CHECK(search::quantile(values, 0.8) == Approx(7.0));
  CHECK(search::quantile(values, 0.9) == Approx(8.5));
  CHECK(search::quantile({5.0}, 0.3) == 5.0);
}

TEST_CASE("a value's place in a class") {
  const std::vector<double> values{1, 2, 2, 4};
  const auto inside = search::standing(values, 2.0);
  CHECK(inside.below == 1);
  CHECK(inside.above == 1);
  CHECK(inside.count == 4);
  CHECK(search::standing(values, 0.0).above == 4);
  CHECK(search::standing(values, 9.0).below == 4);
  CHECK(search::standing(values, 2.0 * (1.0 + 1e-12)).below == 1);
}

TEST_CASE("a reference is judged as it would be by itself") {
  const brief::Brief brief = test::quick_brief();
  const auto judged = search::judge_references(brief, {drawn(brief, "as drawn")});
  REQUIRE(judged.layouts.size() == 1);
  const auto alone = search::assess_layout(brief.layout, brief.targets, {});
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    REQUIRE(judged.layouts[0].achieved[t]);
    const objectives::Verdict& verdict = alone.targets[t];
    const bool path = brief.targets[t].wish.kind == objectives::Wish::Kind::follow;
    const double expected = path ? std::abs(verdict.achieved - verdict.wished) : verdict.achieved;
    CHECK(*judged.layouts[0].achieved[t] == expected);
    CHECK(judged.values[t] == std::vector<double>{expected});
  }
}

TEST_CASE("bands run where four fifths of the class do, and a reading's error gives a spread") {
  const brief::Brief brief = test::quick_brief();
  std::vector<search::Reference> all;
  for (int i = 0; i < 5; ++i) {
    all.push_back(drawn(brief, std::to_string(i)));
    all.back().layout.mechanism.points[0].y += 2.0 * (2 * i % 5);  // in no order of their curves
  }
  all[0].tolerances.emplace().points.assign(brief.layout.mechanism.points.size(), {1.0, 1.0});
  const auto judged = search::judge_references(brief, all);
  REQUIRE(judged.layouts.size() == 5);
  const auto band = std::find_if(judged.bands.begin(), judged.bands.end(),
                                 [](const auto& b) { return b.key == bike::CurveKey{bike::Curve::anti_rise}; });
  REQUIRE(band != judged.bands.end());
  // Topped out by hand: the class's values there, in order.
  std::vector<double> values;
  for (const auto& one : judged.layouts)
    values.push_back(*one.sheet.motion.table.find({bike::Curve::anti_rise})->values.front());
  std::sort(values.begin(), values.end());
  CHECK(band->low.front() == Approx(values[0] + 0.4 * (values[1] - values[0])).epsilon(1e-9));
  CHECK(band->high.front() == Approx(values[3] + 0.6 * (values[4] - values[3])).epsilon(1e-9));

  REQUIRE(judged.layouts[0].spread.size() == brief.targets.size());
  CHECK(judged.layouts[1].spread.empty());
  const auto& spread = judged.layouts[0].spread[0];
  REQUIRE(spread);
  CHECK(spread->first < *judged.layouts[0].achieved[0]);
  CHECK(spread->second > *judged.layouts[0].achieved[0]);
}

TEST_CASE("three bikes are a class that has bands, and two are none") {
  const brief::Brief brief = test::quick_brief();
  const std::vector<search::Reference> three{drawn(brief, "a"), drawn(brief, "b"), drawn(brief, "c")};
  const std::vector<search::Reference> two{three[0], three[1]};
  CHECK_FALSE(search::judge_references(brief, three).bands.empty());
  CHECK(search::judge_references(brief, two).bands.empty());
}

TEST_CASE("gears are matched by their teeth, and a missing one is added") {
  const brief::Brief brief = test::quick_brief();
  search::Reference turned = drawn(brief, "other order"), bare = drawn(brief, "no gears");
  std::reverse(turned.layout.drivetrain.gears.begin(), turned.layout.drivetrain.gears.end());
  bare.layout.drivetrain.gears.clear();
  const auto judged = search::judge_references(brief, {drawn(brief, "as drawn"), turned, bare});
  REQUIRE(judged.layouts.size() == 3);
  CHECK(judged.layouts[1].achieved == judged.layouts[0].achieved);
  CHECK(judged.layouts[2].achieved == judged.layouts[0].achieved);
}

TEST_CASE("what a reference lacks is not judged, and what does not move is left out by name") {
  brief::Brief brief = test::quick_brief();
  objectives::Target rate;
  rate.name = "rate";
  rate.curve = {bike::Curve::wheel_rate, -1};
  rate.at = {objectives::Station::Kind::sag, 0.0};
  rate.wish = {objectives::Wish::Kind::floor, 1.0, 0.0, {}};
  brief.targets.push_back(rate);
  search::Reference bare = drawn(brief, "no spring"), stuck = drawn(brief, "stuck");
  bare.layout.shock->spring.reset();
  stuck.layout.mechanism.drive.range = stuck.layout.shock->stroke = 200.0;
  const auto judged = search::judge_references(brief, {drawn(brief, "whole"), bare, stuck});
  REQUIRE(judged.layouts.size() == 2);
  CHECK(judged.layouts[0].achieved.back());
  CHECK_FALSE(judged.layouts[1].achieved.back());
  CHECK(judged.values.back().size() == 1);
  REQUIRE(judged.left_out.size() == 1);
  CHECK(judged.left_out[0].find("stuck ") == 0);
}
