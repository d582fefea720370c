// Families on problems whose feasible set is known in closed form, and on the brief that ships.
#include "search/families.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "linkage/branches.hpp"
#include "search/family_reach.hpp"
#include "search/shortlist.hpp"
#include "search/study.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Families;
using search::Family;
using search::FamilyFinder;
using search::FeasiblePath;
using search::Setup;
using test::within;

namespace {

/// A single pivot that may lie anywhere in x −20 … 40, y 40 … 100, by its ranges; `room` is what stands in its way.
brief::Brief pivot_brief(const std::string& room, const std::string& choose = "") {
  return test::brief_of(brief::read_text(R"(
trammel: 1
title: Single pivot with something in its way
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [790, 30], head_angle: 66, travel: 130 }
  cg: { x: 20, height: 1100 }
drivetrain: { chainring: 32, gears: [50] }
linkage:
  points: { pivot: [10, 60], axle: [-435, 30], eye: [-150, 140], mount: [10, 260], hub: [10, 70] }
  members: { frame: [pivot, mount, hub], swingarm: [pivot, axle, eye] }
  axle: { point: axle, member: swingarm }
shock: { between: [mount, eye], length: 200, stroke: 52 }
vary: { pivot: { x: [-20, 40], y: [40, 100] } }
sound: any
targets:
  - { curve: travel, at: bottomed, floor: 60, must: true }
  - { curve: travel, at: bottomed, band: [500, 600] }
packaging:
)" + room + choose,
                                         "pivot.yaml"));
}

/// A pivot 10 mm wide has to keep 2 mm from a wall 10 mm wide that stands at x = 10 up to `top`: 12 mm from its middle.
std::string wall_up_to(int top) {
  return "  bodies:\n    wall: { from: [10, 0], to: [10, " + std::to_string(top) +
         "], diameter: 10 }\n    boss: { centre: pivot, diameter: 10 }\n"
         "  clearances: [ { of: wall, to: [boss], least: 2 } ]\n";
}

store::LayoutRow row_at(std::int64_t id, std::vector<double> x, std::int64_t choice = 0) {
  store::LayoutRow row;
  row.unit = id;
  row.design = std::move(x);
  row.choice = choice;
  row.musts = row.musts_met = 2;
  row.score = static_cast<double>(id);
  return row;
}

/// A unit for each row, which took so many refinements.
void add(FamilyFinder& finder, const std::vector<store::LayoutRow>& rows, std::int64_t refined = 1) {
  for (const store::LayoutRow& row : rows) {
    store::UnitRow unit;
    unit.unit = row.unit;
    unit.refined = refined;
    unit.layouts = {row};
    finder.add(unit);
  }
}

/// Places by chance that meet every must.
std::vector<store::LayoutRow> scattered(const Setup& setup, int count) {
  search::Scorer scorer(setup, 0);
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  std::vector<store::LayoutRow> rows;
  while (static_cast<int>(rows.size()) < count) {
    const std::vector<double> x{share(random), share(random)};
    if (scorer.assessment(x).feasible()) rows.push_back(row_at(static_cast<std::int64_t>(rows.size()), x));
  }
  return rows;
}

Families families_of(const Setup& setup, const std::vector<store::LayoutRow>& rows, int threads = 1) {
  FamilyFinder finder(setup);
  add(finder, rows);
  finder.join({.threads = threads});
  return finder.sheet({.threads = threads});
}

/// The pivot's x in mm, its range.
double pivot_x(const store::LayoutRow& row) {
  return -20.0 + 60.0 * row.design[0];
}
constexpr double step_mm = 60.0 / FeasiblePath::steps;

}  // namespace

TEST_CASE("a wall from end to end parts the layouts into two families, each with its own extents") {
  const brief::Brief brief = pivot_brief(wall_up_to(200));
  const Setup setup(brief);
  const std::vector<store::LayoutRow> rows = scattered(setup, 60);
  const Families all = families_of(setup, rows);
  REQUIRE(all.families.size() == 2);
  CHECK(all.looked_at == 60);
  CHECK(all.feasible == 60);
  std::size_t sum = 0;
  for (const Family& family : all.families) {
    sum += family.members.size();
    REQUIRE(family.extents.size() == 2);
    const search::FamilyExtent &x = family.extents[0], &y = family.extents[1];
    CHECK(x.name == "pivot.x");
    CHECK(x.lo == -20.0);
    CHECK(x.hi == 40.0);
    // Which side it is on, by its first layout; then where the wall lets it go, from above.
    const auto first = std::find_if(rows.begin(), rows.end(), [&](const store::LayoutRow& row) {
      return search::layout_id(row) == family.members.front();
    });
    const bool left = pivot_x(*first) < 10.0;
    const auto on_this_side =
        std::count_if(rows.begin(), rows.end(), [&](const auto& r) { return (pivot_x(r) < 10.0) == left; });
    CHECK(static_cast<std::ptrdiff_t>(family.members.size()) == on_this_side);
    CHECK(x.shown_lo == within(left ? -20.0 : 22.0, 1.01 * step_mm));
    CHECK(x.shown_hi == within(left ? -2.0 : 40.0, 1.01 * step_mm));
    CHECK(x.shown_hi <= (left ? -2.0 : 40.0));
    CHECK(x.shown_lo >= (left ? -20.0 : 22.0));
    CHECK(y.shown_lo == 40.0);
    CHECK(y.shown_hi == 100.0);
    CHECK(x.found_lo > x.shown_lo);
    CHECK(x.found_hi < x.shown_hi);
  }
  CHECK(sum == 60);
  CHECK(all.unseen == 0.0);
}

TEST_CASE("a wall with a way over it parts nothing, though no straight path leads through it") {
  const brief::Brief brief = pivot_brief(wall_up_to(75));  // over it, from y = 87 on
  const Setup setup(brief);
  FeasiblePath path(setup, 0);
  const auto at = [](double x, double y) { return std::vector<double>{(x + 20.0) / 60.0, (y - 40.0) / 60.0}; };
  CHECK_FALSE(path.straight(at(-15, 50), at(35, 50)));
  CHECK(path.straight(at(-15, 90), at(35, 90)));
  // Straight ahead until 12 mm from the wall's middle.
  CHECK(60.0 * path.reach(at(-20, 50), at(40, 50)) == within(18.0 - 0.5 * step_mm, 0.5 * step_mm));
  CHECK(path.reach(at(-20, 50), at(-20, 100)) == 1.0);
  const auto middle = path.waypoint(at(-15, 80), at(35, 80));
  REQUIRE(middle);
  CHECK(40.0 + 60.0 * (*middle)[1] > 87.0);
  CHECK(families_of(setup, scattered(setup, 60)).families.size() == 1);
  // Two layouts alone: by a waypoint.
  const Families two = families_of(setup, {row_at(0, at(-15, 80)), row_at(1, at(35, 80))});
  REQUIRE(two.families.size() == 1);
  CHECK(two.families[0].extents[1].shown_hi == 100.0);
}

TEST_CASE("a number is pushed as far as it goes when the others give way") {
  // A disc of 25 mm about a place on the frame; a small cluster starts above its middle.
  const brief::Brief brief = pivot_brief("  lengths: [ { between: [pivot, hub], greatest: 25 } ]\n");
  const Setup setup(brief);
  std::vector<store::LayoutRow> rows;
  for (int i = 0; i < 5; ++i) rows.push_back(row_at(i, {0.5 + 0.01 * i, 0.66 + 0.013 * (i % 3)}));
  const Families all = families_of(setup, rows);
  REQUIRE(all.families.size() == 1);
  const auto& [x, y] = std::tie(all.families[0].extents[0], all.families[0].extents[1]);
  CHECK(x.shown_lo == within(-15.0, 0.2));
  CHECK(x.shown_hi == within(35.0, 0.2));
  CHECK(y.shown_lo == within(45.0, 0.2));
  CHECK(y.shown_hi == within(95.0, 0.2));
  for (const auto* e : {&x, &y}) {
    CHECK(e->shown_lo <= e->found_lo);
    CHECK(e->shown_hi >= e->found_hi);
    CHECK(e->shown_lo >= (e == &x ? -15.0 : 45.0));
    CHECK(e->shown_hi <= (e == &x ? 35.0 : 95.0));
  }
}

TEST_CASE("layouts of different choices are of different families, however near their pivots") {
  const brief::Brief brief = pivot_brief("  least_pivot_distance: 5\n", "choose: { chainring: [30, 32] }\n");
  REQUIRE(Setup(brief).design.choices() == 2);
  const Setup setup(brief);
  const Families all = families_of(setup, {row_at(0, {0.5, 0.5}), row_at(1, {0.51, 0.5}), row_at(2, {0.5, 0.5}, 1)});
  REQUIRE(all.families.size() == 2);
  CHECK(all.families[0].members == std::vector<std::string>{"0-0", "1-0"});
  CHECK(all.families[0].best == "0-0");
  CHECK(all.families[1].members == std::vector<std::string>{"2-0"});
  CHECK(all.families[0].layout.drivetrain.gears[0].chainring == 30);
  CHECK(all.families[1].layout.drivetrain.gears[0].chainring == 32);
  CHECK(all.unseen == within(1.0 / 3.0, 1e-12));  // one family of three refinements was met once
}

TEST_CASE("a branch is told by the side on which a point is drawn") {
  const brief::Brief brief = test::trail_brief();
  const bike::Model model = bike::make_model(brief.layout);
  std::vector<math::Vec2<double>> points = brief.layout.mechanism.points;
  const std::vector<bool> drawn = linkage::branches(model.program, points);
  REQUIRE_FALSE(drawn.empty());
  const auto number = [&](const std::string& name) {
    const auto& names = brief.layout.mechanism.point_names;
    return static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
  };
  // Every point moved along leaves the branches as they are; the joint of chainstay and seatstay mirrored in the line
  // of the joints that hold the two does not.
  for (math::Vec2<double>& p : points) p = p + math::Vec2<double>{3.0, -2.0};
  CHECK(linkage::branches(model.program, points) == drawn);
  const math::Vec2<double> main = points[number("main")], along = points[number("tail")] - main;
  math::Vec2<double>& stay = points[number("stay")];
  const math::Vec2<double> off = stay - main;
  stay = main + along * (2.0 * dot(off, along) / dot(along, along)) - off;
  CHECK(linkage::branches(model.program, points) != drawn);
}

TEST_CASE("the trail brief's layouts are one family, on any number of threads and whatever comes in between") {
  brief::Brief brief = test::quick_brief();
  brief.search.refine = 4;
  const Setup setup(brief);
  std::vector<store::UnitRow> units;
  for (std::int64_t u = 0; u < 6; ++u) units.push_back(*search::run_unit(setup, u, nullptr));
  const auto sheet = [&](int threads) {
    FamilyFinder finder(setup);
    for (const store::UnitRow& unit : units) finder.add(unit);
    finder.join({.threads = threads});
    return finder.sheet({.threads = threads});
  };
  const Families one = sheet(1), three = sheet(3);
  REQUIRE(one.looked_at > 5);
  REQUIRE(one.families.size() == 1);
  CHECK(one.paths == three.paths);
  REQUIRE(three.families.size() == 1);
  for (std::size_t v = 0; v < 11; ++v) {
    const search::FamilyExtent &a = one.families[0].extents[v], &b = three.families[0].extents[v];
    CHECK(a.name == b.name);
    CHECK(a.shown_lo == b.shown_lo);
    CHECK(a.shown_hi == b.shown_hi);
    CHECK(a.lo <= a.shown_lo);
    CHECK(a.shown_lo <= a.found_lo);
    CHECK(a.found_lo <= a.found_hi);
    CHECK(a.found_hi <= a.shown_hi);
    CHECK(a.shown_hi <= a.hi);
  }
  // Unit by unit they join as well.
  FamilyFinder finder(setup);
  for (const store::UnitRow& unit : units) {
    finder.add(unit);
    finder.join({});
  }
  CHECK(finder.sheet({}).families.size() == 1);
}

TEST_CASE("what leads on, and where it ends, is what the verdict says, place by place") {
  // The verdict is that of a report: the kernel on the printed layout, without the search's tapes and packs.
  brief::Brief brief = test::quick_brief();
  brief.packaging.sensitivity.reset();  // which that verdict cannot say without slopes
  const Setup setup(brief);
  std::vector<store::LayoutRow> rows;
  for (std::int64_t u = 0; u < 4; ++u) {
    const store::UnitRow unit = *search::run_unit(setup, u, nullptr);
    for (const store::LayoutRow& row : unit.layouts)
      if (row.musts_met == row.musts) rows.push_back(row);
  }
  REQUIRE(rows.size() >= 3);
  FeasiblePath path(setup, 0);
  const auto feasible = [&](const std::vector<double>& from, const std::vector<double>& to, int k) {
    std::vector<double> x = from;
    for (std::size_t i = 0; i < x.size(); ++i) x[i] += (to[i] - from[i]) * k / FeasiblePath::steps;
    return search::assess_layout(setup.design.layout(x, 0), brief.targets, brief.packaging).feasible();
  };
  int whole = 0, cut = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const std::vector<double>&from = rows[0].design, &to = rows[i].design;
    const bool straight = path.straight(from, to);
    int last = 0;
    while (last < FeasiblePath::steps && feasible(from, to, last + 1)) ++last;
    CHECK(straight == (last == FeasiblePath::steps));
    CHECK(path.reach(from, to) * FeasiblePath::steps == within(last, 1e-9));
    // From there past the far side of the ranges: somewhere that ends.
    std::vector<double> beyond(from.size());
    for (std::size_t v = 0; v < from.size(); ++v) beyond[v] = to[v] < 0.5 ? 1.0 : 0.0;
    last = 0;
    while (last < FeasiblePath::steps && feasible(from, beyond, last + 1)) ++last;
    CHECK(path.reach(from, beyond) * FeasiblePath::steps == within(last, 1e-9));
    ++(straight ? whole : cut);
    cut += last < FeasiblePath::steps ? 1 : 0;
  }
  CHECK(whole > 0);
  CHECK(cut > 0);
}

TEST_CASE("a family that comes up later is noticed once") {
  const brief::Brief brief = pivot_brief(wall_up_to(200));
  const Setup setup(brief);
  FamilyFinder finder(setup);
  const auto brings = [&](const std::vector<store::LayoutRow>& rows) {
    add(finder, rows, 10);
    finder.join({});
    return finder.brought_a_family();
  };
  CHECK(brings({row_at(0, {0.1, 0.5}), row_at(1, {0.2, 0.5})}));
  CHECK_FALSE(brings({row_at(2, {0.15, 0.9})}));
  CHECK(brings({row_at(3, {0.9, 0.2})}));
  CHECK_FALSE(brings({row_at(4, {0.8, 0.3}), row_at(5, {0.1, 0.1})}));
  CHECK_FALSE(brings({}));
  const Families all = finder.sheet({});
  REQUIRE(all.families.size() == 2);
  CHECK(all.families[0].members.size() == 4);
  CHECK(all.unseen == 0.0);
}
