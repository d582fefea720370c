// One work unit: a function of the brief, the seed and its number.
#include "search/unit.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/design.hpp"
#include "search/finish.hpp"
#include "search/score.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using search::Finish;
using search::ranks_before;
using search::run_unit;
using search::Setup;

TEST_CASE("the same unit twice, in any order, gives the same bits") {
  const brief::Brief brief = test::quick_brief();
  const Setup setup(brief);
  std::vector<store::UnitRow> first;
  for (std::int64_t unit : {0, 1, 5}) first.push_back(run_unit(setup, unit, nullptr).value());
  // Another setup, the other way round.
  const Setup again(brief);
  std::vector<store::UnitRow> second;
  for (std::int64_t unit : {5, 1, 0}) second.push_back(run_unit(again, unit, nullptr).value());
  for (std::size_t i = 0; i < 3; ++i) CHECK(test::same(first[i], second[2 - i]));
  CHECK_FALSE(first[0].layouts.front().design == first[1].layouts.front().design);
}

TEST_CASE("another seed gives another unit") {
  brief::Brief brief = test::quick_brief();
  const store::UnitRow one = run_unit(Setup(brief), 0, nullptr).value();
  brief.search.seed += 1;
  const store::UnitRow other = run_unit(Setup(brief), 0, nullptr).value();
  CHECK_FALSE(one.layouts.front().design == other.layouts.front().design);
}

TEST_CASE("what a unit reports is what its layouts are") {
  brief::Brief brief = test::quick_brief();
  brief.packaging.sensitivity.reset();  // a layout that stands by itself is judged without slopes
  const Setup setup(brief);
  const store::UnitRow unit = run_unit(setup, 3, nullptr).value();
  CHECK(unit.unit == 3);
  CHECK(unit.screened == brief.search.samples);
  CHECK(unit.refined >= 1);
  CHECK(unit.refined <= brief.search.refine + 1);
  // Refinements are up to three in a row for each start, by penalties; then the finish, and one more for the best.
  CHECK(unit.evaluations > 0);
  CHECK(unit.evaluations <= unit.refined * (3 * brief.search.evaluations + Finish::most_evaluations));
  std::int64_t failures = 0;
  for (const store::FailureRow& f : unit.failures) {
    CHECK(f.unit == 3);
    CHECK(f.count > 0);
    CHECK_FALSE(f.cause.empty());
    failures += f.count;
  }
  CHECK(failures > 0);
  CHECK(failures < unit.screened);
  REQUIRE_FALSE(unit.layouts.empty());
  for (std::size_t i = 0; i < unit.layouts.size(); ++i) {
    const store::LayoutRow& row = unit.layouts[i];
    CHECK(row.unit == 3);
    CHECK(row.place == static_cast<std::int64_t>(i));
    REQUIRE(row.design.size() == 11);
    for (double x : row.design) CHECK((x >= 0.0 && x <= 1.0));
    if (i > 0) CHECK(ranks_before(unit.layouts[i - 1], row));
    for (std::size_t j = 0; j < i; ++j) CHECK(search::distance(unit.layouts[j].design, row.design) >= 0.02);
    // Judged again from nothing but the layout as it would be printed: the same to the last bit.
    const objectives::Assessment again =
        search::assess_layout(setup.design.layout(row.design, 0), brief.targets, brief.packaging);
    CHECK(again.score == row.score);
    CHECK(again.margin == row.margin);
    CHECK(again.must_margin == row.must_margin);
    CHECK(again.wish_margin == row.wish_margin);
    CHECK(row.room == Approx(std::clamp(row.must_margin, 0.0, brief.search.room)).margin(0.005 + 1e-12));
    CHECK(again.musts == row.musts);
    CHECK(again.musts_met == row.musts_met);
    REQUIRE(again.targets.size() == row.achieved.size());
    for (std::size_t t = 0; t < row.achieved.size(); ++t) CHECK(again.targets[t].achieved == row.achieved[t]);
  }
}

TEST_CASE("units take turns at the choices") {
  brief::Brief brief = test::quick_brief();
  brief.shocks = {{230.0, 57.5}, {210.0, 55.0}, {230.0, 60.0}};
  const Setup setup(brief);
  for (std::int64_t number = 0; number < 4; ++number) {
    const store::UnitRow unit = run_unit(setup, number, nullptr).value();
    for (const store::LayoutRow& row : unit.layouts) CHECK(row.choice == number % 3);
  }
}

TEST_CASE("refinement improves on the best sample") {
  const brief::Brief brief = test::quick_brief();
  const Setup setup(brief);
  search::Scorer scorer(setup, 0);
  const store::UnitRow unit = run_unit(setup, 0, nullptr).value();
  const objectives::Emphasis plain{20.0, 0.0};
  double best_sample = 1e300;
  std::vector<double> x(11);
  for (int i = 0; i < brief.search.samples; ++i) {
    setup.sobol.point(static_cast<std::uint64_t>(i), x);
    best_sample = std::min(best_sample, scorer.screen(x, plain, best_sample).figure);
  }
  const double best = scorer.figure(unit.layouts.front().design, plain, {});
  INFO("best sample " << best_sample << ", best refined " << best);
  CHECK(best < 0.1 * best_sample);
}

TEST_CASE("a cancelled unit leaves nothing") {
  const brief::Brief brief = test::quick_brief();
  const Setup setup(brief);
  const std::atomic<bool> cancel = true;
  CHECK_FALSE(run_unit(setup, 0, &cancel).has_value());
  const std::atomic<bool> go = false;
  const store::UnitRow watched = run_unit(setup, 0, &go).value();
  CHECK(test::same(watched, run_unit(setup, 0, nullptr).value()));
}

TEST_CASE("the order of merit is a strict weak order") {
  // Few values of each field, so that ties and near ties are common.
  std::mt19937_64 random(99);
  const auto pick = [&](int n) { return static_cast<double>(std::uniform_int_distribution<int>(0, n - 1)(random)); };
  std::vector<store::LayoutRow> rows;
  for (int i = 0; i < 150; ++i) {
    store::LayoutRow row;
    row.unit = static_cast<std::int64_t>(pick(3));
    row.place = static_cast<std::int64_t>(pick(2));
    row.musts = 4 + static_cast<std::int64_t>(pick(2));
    row.musts_met = static_cast<std::int64_t>(pick(5));
    row.score = 0.5 * pick(3);
    row.margin = 0.004 * pick(3) - 1.0;
    row.must_margin = 0.004 * pick(2);
    row.room = 0.125 * pick(2);
    rows.push_back(row);
  }
  const auto equal = [](const store::LayoutRow& a, const store::LayoutRow& b) {
    return !ranks_before(a, b) && !ranks_before(b, a);
  };
  int broken = 0, ties = 0;
  for (const auto& a : rows) {
    broken += ranks_before(a, a);
    for (const auto& b : rows) {
      broken += ranks_before(a, b) && ranks_before(b, a);
      ties += &a != &b && equal(a, b);
      for (const auto& c : rows) {
        broken += ranks_before(a, b) && ranks_before(b, c) && !ranks_before(a, c);
        broken += equal(a, b) && equal(b, c) && !equal(a, c);
      }
    }
  }
  CHECK(broken == 0);
  CHECK(ties > 0);  // rows equal in all that counts do occur here
}

TEST_CASE("merit: fewer requirements missed, then room, then score, then margin, then the earlier id") {
  store::LayoutRow base;
  base.musts = 5;
  base.musts_met = 4;
  base.score = 1.0;
  base.margin = 0.2;
  base.room = 0.1;
  base.unit = 7;
  base.place = 3;
  const auto better = [&](auto change) {
    store::LayoutRow row = base;
    change(row);
    return ranks_before(row, base) && !ranks_before(base, row);
  };
  CHECK(better([](auto& r) { r.musts_met = 5, r.room = 0.0, r.score = 100.0, r.margin = -50.0, r.unit = 9; }));
  CHECK(better([](auto& r) { r.room = 0.11, r.score = 100.0, r.margin = -50.0, r.unit = 9; }));
  CHECK(better([](auto& r) { r.score = 0.9, r.margin = -50.0, r.unit = 9; }));
  CHECK(better([](auto& r) { r.margin = 0.3, r.must_margin = -9.0, r.unit = 9; }));
  CHECK(better([](auto& r) { r.margin = 0.199, r.must_margin = 0.2, r.unit = 9; }));  // as good to a hundredth
  CHECK(better([](auto& r) { r.margin = 0.201, r.unit = 9; }));
  CHECK(better([](auto& r) { r.unit = 6, r.place = 9; }));
  CHECK(better([](auto& r) { r.place = 2; }));
  CHECK_FALSE(better([](auto& r) { r.musts = 6; }));
}
