// Proofs over the ranges are sound: no layout that meets every requirement is ever in what they drop, and what they say
// of a box holds of every layout in it.
#include "search/prove.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/prove_rows.hpp"
#include "search/score.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using math::Interval;
using search::BoxJudge;
using search::Must;
using search::Setup;
using search::VariableBox;

namespace {

brief::Brief shipped(const std::string& file) {
  brief::Brief brief = test::brief_of(brief::read_file(test::in_tree("configs/" + file + ".yaml")));
  const auto hasten = [](brief::Brief& one) {
    one.search.samples = 256;
    one.search.refine = 3;
    one.search.evaluations = 80;
  };
  hasten(brief);
  for (brief::Brief& one : brief.linkages) hasten(one);
  return brief;
}

/// Layouts of the first units of a linkage that meet every requirement.
std::vector<store::LayoutRow> feasible(const Setup& setup, int units) {
  std::vector<store::LayoutRow> out;
  for (int unit = 0; unit < units; ++unit) {
    const auto row = search::run_unit(setup, unit, nullptr);
    for (const store::LayoutRow& layout : row->layouts)
      if (search::Scorer(setup, static_cast<int>(layout.choice)).assessment(layout.design).feasible())
        out.push_back(layout);
  }
  return out;
}

bool lies_in(const VariableBox& box, const std::vector<double>& x) {
  for (std::size_t i = 0; i < box.size(); ++i)
    if (!box[i].holds(x[i])) return false;
  return true;
}

/// A box of about so wide sides with x somewhere in it.
VariableBox around(const std::vector<double>& x, double width, std::mt19937& random) {
  std::uniform_real_distribution<double> share(0.0, 1.0);
  VariableBox box;
  for (const double at : x) {
    const double below = share(random) * width;
    box.emplace_back(std::max(0.0, at - below), std::min(1.0, at - below + width));
    if (!box.back().holds(at)) box.back() = {at, at};
  }
  return box;
}

/// Whether a layout breaks a must by its verdicts.
bool breaks(const objectives::Assessment& of, const Must& must) {
  if (must.kind == Must::Kind::target) return !of.targets[must.number].met;
  for (const objectives::RuleVerdict& rule : of.rules)
    if ((must.kind == Must::Kind::assembles ? rule.name == "least transmission angle" : rule.rule == must.number) &&
        !rule.met)
      return true;
  return false;
}

const std::vector<double> widths{0.5, 0.2, 0.1, 0.05, 0.02, 0.005, 0.001};

}  // namespace

TEST_CASE("no box around a layout that meets every requirement is dropped, nor the layout cut off") {
  std::mt19937 random(7);
  int layouts = 0;
  for (const char* file : {"trail-150", "enduro-170", "cross-country-110", "downhill-200", "kids-100"}) {
    INFO(file);
    const brief::Brief brief = shipped(file);
    const Setup setup(brief);
    for (const store::LayoutRow& layout : feasible(setup, 2)) {
      const auto judge = search::make_box_judge(setup, static_cast<int>(layout.choice));
      REQUIRE(judge);
      ++layouts;
      search::ProofRows rows;
      search::RowSolver solver;
      for (const double width : widths)
        for (int i = 0; i < 6; ++i) {
          const VariableBox box = around(layout.design, width, random);
          REQUIRE(judge->judge(box, i % 2 == 0, rows) == -1);
          const search::RowsLeave leave = solver.solve(rows);
          REQUIRE_FALSE(leave.empty);
          for (std::size_t v = 0; v < box.size(); ++v) {
            const double half = 0.5 * (box[v].hi - box[v].lo);
            if (half == 0.0) continue;
            const double place = (layout.design[v] - box[v].middle()) / half;
            REQUIRE(leave.lo[v] <= place + 1e-9);
            REQUIRE(leave.hi[v] >= place - 1e-9);
          }
        }
    }
  }
  CHECK(layouts > 20);
}

TEST_CASE(
    "a must that is broken everywhere in a box is broken by every layout of it that keeps its transmission angles, in "
    "every linkage") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  const brief::Brief brief = shipped("which-linkage-150");
  const Setup setup(brief);
  int judged = 0, dropped = 0;
  for (std::int64_t l = 0; l < setup.linkage_count(); ++l) {
    const Setup& own = setup.of(l);
    const auto judge = search::make_box_judge(own, 0);
    if (!judge) continue;
    ++judged;
    INFO(own.brief.linkage);
    search::Scorer scorer(own, 0);
    search::ProofRows rows;
    for (const double width : widths)
      for (int i = 0; i < 60; ++i) {
        std::vector<double> x(static_cast<std::size_t>(own.design.size()));
        for (double& v : x) v = share(random);
        const VariableBox box = around(x, width, random);
        const int broken = judge->judge(box, i % 2 == 0, rows);
        if (broken < 0) continue;
        ++dropped;
        const Must& must = judge->musts()[static_cast<std::size_t>(broken)];
        INFO(name_of(must, own.brief));
        for (int point = 0; point < 10; ++point) {
          // What is said of a box is said of layouts whose joints keep away from dead points.
          const objectives::Assessment of = scorer.assessment(x);
          REQUIRE((breaks(of, must) || breaks(of, Must{})));
          for (std::size_t v = 0; v < x.size(); ++v) x[v] = box[v].lo + share(random) * (box[v].hi - box[v].lo);
        }
      }
  }
  CHECK(judged >= 4);
  CHECK(dropped > 100);
}

TEST_CASE("every layout that a search keeps lies in a box that is left, for any number of threads the same") {
  for (const char* file : {"trail-150", "cross-country-110"}) {
    INFO(file);
    const brief::Brief brief = shipped(file);
    const Setup setup(brief);
    const auto never = [](double) { return false; };
    const auto parts = search::prove(setup, {1500, 1}, never), again = search::prove(setup, {1500, 3}, never);
    REQUIRE(parts.size() == again.size());
    for (std::size_t p = 0; p < parts.size(); ++p) {
      CHECK(parts[p].left < 1.0);
      CHECK(parts[p].left == again[p].left);
      CHECK(parts[p].boxes == again[p].boxes);
      REQUIRE(parts[p].boxes_left.size() == again[p].boxes_left.size());
      for (std::size_t b = 0; b < parts[p].boxes_left.size(); ++b)
        for (std::size_t v = 0; v < parts[p].boxes_left[b].size(); ++v) {
          REQUIRE(parts[p].boxes_left[b][v].lo == again[p].boxes_left[b][v].lo);
          REQUIRE(parts[p].boxes_left[b][v].hi == again[p].boxes_left[b][v].hi);
        }
    }
    for (const store::LayoutRow& layout : feasible(setup, 2)) {
      const search::ProofPart& part = parts[static_cast<std::size_t>(layout.choice)];
      CHECK(std::any_of(part.boxes_left.begin(), part.boxes_left.end(),
                        [&](const VariableBox& box) { return lies_in(box, layout.design); }));
    }
  }
}

namespace {

/// A swingarm on one pivot of which little may vary, with a demand on top.
brief::Brief single_pivot(const std::string& demand) {
  return test::brief_of(brief::read_text(R"(
trammel: 1
title: Single pivot
bike:
  wheels: { rear: { radius: 355 }, front: { radius: 355 } }
  front: { axle: [776, 28], head_angle: 65.5, travel: 140 }
  cg: { x: 20, height: 1090 }
drivetrain: { chainring: 30, gears: [46] }
linkage:
  points: { main: [8, 62], axle: [-428, 28], eye: [-62, 216], mount: [134.9, 250.7] }
  members:
    frame: [main, mount]
    swingarm: [main, axle, eye]
  axle: { point: axle, member: swingarm }
shock: { between: [mount, eye], length: 200, stroke: 51 }
sag: { fraction: 0.28, of: wheel }
sound: any
vary:
  main: { x: [-5, 25], y: [45, 100] }
  eye: { from: main, length: [140, 180], angle: [105, 125] }
  mount: { from: eye, length: shock, angle: [-5, 20] }
targets:
  - { name: travel, curve: travel, at: bottomed, band: [110, 150], must: true }
)" + demand + "search: { seed: 1, units: 2 }\n",
                                         "single.yaml"));
}

}  // namespace

TEST_CASE("demands that exclude each other are proven to, and no search finds a layout") {
  // A ceiling far under what the single pivot's height makes of anti-squat.
  const std::string against = R"(  - { name: climbing, curve: anti_squat, gear: 30x46, at: sag, floor: 190, must: true }
  - { name: feet, curve: kickback, gear: 30x46, at: bottomed, ceiling: 4, must: true }
)";
  const brief::Brief brief = single_pivot(against);
  const Setup setup(brief);
  const auto parts = search::prove(setup, {50000, 2}, [](double) { return false; });
  REQUIRE(parts.size() == 1);
  CHECK(parts.front().empty());
  CHECK(parts.front().left == 0.0);
  CHECK(parts.front().hull.empty());
  double shares = 0.0;
  for (const search::MustShare& must : parts.front().musts) shares += must.share;
  CHECK(shares == Approx(1.0).epsilon(1e-9));
  CHECK(feasible(setup, 2).empty());
}
