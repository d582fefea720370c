// Room in the musts: margins one by one with their slopes, and the finish by constraints.
#include "search/finish.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "objectives/rules/table.hpp"
#include "search/design.hpp"
#include "search/optimiser.hpp"
#include "search/refine.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"

using namespace trammel;
using search::Finish;
using search::Margin;
using search::Margins;
using search::Scorer;
using search::Setup;

namespace {

/// Ends of refinements: layouts that assemble, some of them missing a demand.
std::vector<std::vector<double>> some_layouts(const Setup& setup, int units) {
  std::vector<std::vector<double>> out;
  for (int unit = 0; unit < units; ++unit)
    for (const store::UnitRow found = search::run_unit(setup, unit, nullptr).value();
         const store::LayoutRow& row : found.layouts)
      out.push_back(row.design);
  return out;
}

/// The least margin of the brief's own targets, or of all musts and rules.
double least(const std::vector<Margin>& margins, bool musts) {
  double least = 1.0;
  for (const Margin& m : margins)
    if (musts ? m.must : m.target) least = std::min(least, m.value);
  return least;
}

std::vector<bool> none(std::size_t n) {
  return std::vector<bool>(n, false);
}

}  // namespace

TEST_CASE("margins: the least ones are those of the verdicts, rule by rule and target by target") {
  for (const char* file : {"configs/trail-150.yaml", "configs/e-bike-140.yaml", "configs/flip-chip-140.yaml"}) {
    INFO(file);
    brief::Brief brief = test::brief_of(brief::read_file(test::in_tree(file)));
    brief.search.samples = 128;
    brief.search.refine = 2;
    const Setup setup(brief);
    Scorer scorer(setup, 0);
    Margins margins(scorer);
    const auto layouts = some_layouts(setup, 2);
    REQUIRE_FALSE(layouts.empty());
    for (const std::vector<double>& x : layouts) {
      // Judged on the grid of a thousandth of a millimetre, and bodies along the whole stroke: a little apart.
      const objectives::Assessment judged = scorer.assessment(x);
      double must_margin = 1.0;
      for (std::size_t t = 0; t < judged.targets.size(); ++t)
        if (brief.targets[t].must) must_margin = std::min(must_margin, judged.targets[t].margin);
      // Sensitivity is only judged: it has no slopes.
      for (const objectives::RuleVerdict& rule : judged.rules)
        if (rule.rule != objectives::rule_number<objectives::rules::Sensitivity>)
          must_margin = std::min(must_margin, rule.margin);
      const std::vector<Margin>& all = margins.at(x);
      CHECK(least(all, true) == Approx(must_margin).margin(0.012));
      CHECK(least(all, false) == Approx(judged.margin).margin(0.002));
    }
  }
}

TEST_CASE("margins: slopes against central differences") {
  const brief::Brief brief = test::quick_brief();
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  Margins margins(scorer);
  const std::vector<double> x = some_layouts(setup, 1).front();
  const std::size_t n = x.size(), count = margins.at(x).size();
  std::vector<std::size_t> numbers(count);
  for (std::size_t k = 0; k < count; ++k) numbers[k] = k;
  std::vector<double> values(count), slopes(count * n), score_slopes(n);
  double score = -1.0;
  margins.evaluate(x, {numbers, values, slopes, &score, score_slopes});
  for (std::size_t k = 0; k < count; ++k) CHECK(values[k] == margins.at(x)[k].value);
  constexpr double h = 1e-5;
  std::size_t compared = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const auto at = [&](double by) {
      std::vector<double> moved = x;
      moved[i] += by;
      return margins.at(moved);
    };
    const auto more = at(h), less = at(-h);
    for (std::size_t k = 0; k < count; ++k) {
      const double left = (values[k] - less[k].value) / h, right = (more[k].value - values[k]) / h;
      // A least over stations has a corner where another station takes over; there is no slope to compare.
      if (std::abs(left - right) > 1e-2 * std::max(1.0, std::abs(left))) continue;
      ++compared;
      INFO("margin " << k << ", variable " << i);
      // The error of a central difference, h² times a third derivative, and rounding over h.
      CHECK(slopes[k * n + i] == Approx(0.5 * (left + right)).epsilon(1e-5).margin(1e-5));
    }
  }
  CHECK(compared > 9 * count * n / 10);
}

TEST_CASE("finish: a derivative-free method finds no greater margin near by") {
  // Powell's COBYLA, from a general-purpose library (NLopt), uses linear models of the constraints and no slopes.
  const brief::Brief brief = test::quick_brief();
  constexpr double room = 0.1;
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  Margins margins(scorer);
  constexpr double near = 0.1;
  std::vector<double> start = some_layouts(setup, 1).front();
  // Off its place, so that there is something to gain.
  for (double& x : start) x = std::clamp(x + 0.01, 0.0, 1.0);
  Finish finish(scorer, room, near, nullptr);
  const auto ends = finish.ends(start, none(start.size()), start);
  REQUIRE_FALSE(ends.empty());
  const std::vector<double>& end = ends.back();
  CHECK(finish.evaluations() > 0);
  const double reached = least(margins.at(end), false);
  CHECK(reached > least(margins.at(start), false));
  CHECK(least(margins.at(end), true) >= room);

  search::Problem problem;
  problem.n = static_cast<int>(end.size());
  problem.constraints = 1;
  problem.evaluate = [&](std::span<const double> x, search::Evaluation& out) {
    const std::vector<Margin>& now = margins.at(x);
    out.value = -least(now, false);
    out.constraints[0] = room - least(now, true);
    return true;
  };
  search::Options options;
  options.algorithm = "LN_COBYLA";
  options.evaluations = 3000;
  options.start = end;
  const search::Optimum other = search::optimise(problem, options);
  REQUIRE(other.best);
  INFO("reached " << reached << ", COBYLA " << -other.best->value);
  const bool within = std::equal(end.begin(), end.end(), other.best->x.begin(),
                                 [&](double a, double b) { return std::abs(a - b) < near; });
  CHECK((!within || -other.best->value < reached + 2e-3));
}

TEST_CASE("finish: variables that are held stay, and a layout without room to gain comes back as it was") {
  const brief::Brief brief = test::quick_brief();
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  std::vector<double> start = some_layouts(setup, 1).front();
  for (double& x : start) x = std::clamp(x + 0.01, 0.0, 1.0);
  std::vector<bool> held = none(start.size());
  held[0] = held[3] = true;
  Finish finish(scorer, brief.search.room, 0.1, nullptr);
  const auto ends = finish.ends(start, held, start);
  REQUIRE_FALSE(ends.empty());
  CHECK(ends.back()[0] == start[0]);
  CHECK(ends.back()[3] == start[3]);
  CHECK(ends.back() != start);
  CHECK(finish.ends(start, std::vector<bool>(start.size(), true), start).empty());
}

TEST_CASE("finish: with a wish that cannot be met the requirements still have room") {
  brief::Brief brief = test::quick_brief();
  // Chain growth in the smallest cog goes with kickback in the largest: not below 10° with these musts.
  for (objectives::Target& target : brief.targets)
    if (target.name == "feet") target.wish.hi = 10.0;
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  Margins margins(scorer);
  int feasible = 0;
  double narrowest = 1.0;
  for (int unit = 0; unit < 4; ++unit)
    for (const store::UnitRow found = search::run_unit(setup, unit, nullptr).value();
         const store::LayoutRow& row : found.layouts) {
      if (row.musts_met != row.musts) continue;
      ++feasible;
      CHECK(row.score > 0.0);
      CHECK(least(margins.at(row.design), true) >= brief.search.room);
      // Without a floor the wish takes it all.
      Finish without(scorer, 0.0, 0.1, nullptr);
      const auto ends = without.ends(row.design, none(row.design.size()), row.design);
      REQUIRE_FALSE(ends.empty());
      narrowest = std::min(narrowest, least(margins.at(ends.back()), true));
    }
  CHECK(feasible > 0);
  CHECK(narrowest < 0.05);
}

TEST_CASE("finish: where the floor cannot be had the room is as much as two limits leave") {
  // A floor close under a band's upper end: of y ≥ f over its tolerance τ and y ≤ b over half the band's width w both
  // margins are at most (b − f)/(τ + w), where they are equal.
  brief::Brief brief = test::quick_brief();
  const auto support =
      std::find_if(brief.targets.begin(), brief.targets.end(), [](const auto& t) { return t.name == "support"; });
  REQUIRE(support != brief.targets.end());
  objectives::Target floor = *support;
  floor.name = "more support";
  floor.wish = {objectives::Wish::Kind::floor, 0.238, 0.0, {}};
  const double half = 0.5 * (support->wish.hi - support->wish.lo);
  const double most = (support->wish.hi - floor.wish.lo) / (floor.tolerance + half);
  REQUIRE(most < 0.2);
  brief.targets.push_back(floor);
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  Margins margins(scorer);
  int feasible = 0;
  for (int number = 0; number < 3; ++number) {
    const store::UnitRow unit = search::run_unit(setup, number, nullptr).value();
    for (const store::LayoutRow& row : unit.layouts) {
      CHECK(row.must_margin <= most + 1e-9);
      if (row.musts_met != row.musts) continue;
      ++feasible;
      // A hundredth is kept to spare, and what comes after room may give half as much.
      CHECK(least(margins.at(row.design), true) > most - 0.0151);
    }
  }
  CHECK(feasible > 0);
}
