// A study of several linkages: each gets its turn, and the results depend on nothing but brief and seed.
#include <algorithm>
#include <catch2/catch.hpp>

#include "search/shortlist.hpp"
#include "search/study.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using search::Setup;
using store::StudyFile;

namespace {

constexpr std::int64_t plan = 6;

/// Three linkages, of which the plain single pivot cannot brake as is demanded: its anti-rise and its anti-squat are
/// read off the same pivot.
const brief::Brief& the_brief() {
  static const brief::Brief brief = test::brief_of(brief::read_text(R"(
trammel: 1
title: Three linkages
bike:
  wheels: { rear: { radius: 371 }, front: { radius: 371 } }
  front: { axle: [812, 32], head_angle: 64.8, travel: 160 }
  cg: { x: 25, height: 1110 }
drivetrain: { chainring: 32, gears: [50, 24] }
linkages: [single_pivot, four_bar_axle_on_coupler, high_pivot_idler]
travel: 150
chainstay: 437
choose: { shock: [ { length: 230, stroke: 57.5 }, { length: 210, stroke: 55 } ], idler: [14, 16] }
targets:
  - { name: travel, curve: travel, at: bottomed, band: [146, 154], must: true }
  - { name: climbing, curve: anti_squat, gear: 32x50, at: sag, band: [90, 112], must: true }
  - { name: braking, curve: anti_rise, at: sag, ceiling: 75, must: true }
  - { curve: chain_growth, gear: 32x24, at: bottomed, ceiling: 30 }
packaging: { least_transmission_angle: 22, boxes: { tail: { y: [150, 420] } } }
search: { seed: 4, units: 2, samples: 512, refine: 3, evaluations: 80, shortlist: 5 }
)",
                                                                    "three.yaml"));
  return brief;
}
const Setup& setup() {
  static const Setup made(the_brief());
  return made;
}

std::string digest_of(const store::UnitRow& row) {
  const test::Folder folder;
  StudyFile file = StudyFile::create(folder.study(), test::study_head(the_brief()));
  file.commit({row});
  return file.digest();
}

StudyFile run_plan(const test::Folder& folder, const std::string& name, int threads, std::int64_t slice = 1,
                   std::int64_t slices = 1) {
  StudyFile file = StudyFile::create(folder.study(name), test::study_head(the_brief()));
  search::Budget budget;
  budget.units = plan;
  budget.threads = threads;
  budget.slice = slice;
  budget.slices = slices;
  run_study(setup(), budget, file, {}, [](const search::Progress&) {});
  return file;
}

store::LayoutRow row(std::int64_t unit, std::int64_t linkage, double score, double place, bool feasible = true) {
  store::LayoutRow r;
  r.unit = unit;
  r.linkage = linkage;
  r.design = {place};
  r.musts = 1;
  r.musts_met = feasible ? 1 : 0;
  r.score = score;
  return r;
}

std::vector<std::int64_t> picked(search::Picker& picker, const std::vector<store::LayoutRow>& rows) {
  for (const auto& r : rows)
    if (!picker.offer(r)) break;
  std::vector<std::int64_t> units;
  for (const auto& r : picker.picked()) units.push_back(r.unit);
  return units;
}

}  // namespace

TEST_CASE("units go round the linkages, and each is that linkage's own") {
  REQUIRE(setup().linkage_count() == 3);
  for (std::int64_t unit : {0, 1, 2, 4}) {
    INFO(unit);
    store::UnitRow row = *search::run_unit(setup(), unit, nullptr);
    CHECK(row.unit == unit);
    CHECK(row.linkage == unit % 3);
    for (const auto& layout : row.layouts) CHECK((layout.unit == unit && layout.linkage == unit % 3));
    const Setup alone(the_brief().linkages[static_cast<std::size_t>(unit % 3)]);
    store::UnitRow own = *search::run_unit(alone, unit / 3, nullptr);
    REQUIRE(own.layouts.size() == row.layouts.size());
    CHECK(own.evaluations == row.evaluations);
    for (std::size_t i = 0; i < own.layouts.size(); ++i) {
      CHECK(own.layouts[i].design == row.layouts[i].design);
      CHECK(own.layouts[i].choice == row.layouts[i].choice);
      CHECK(own.layouts[i].score == row.layouts[i].score);
    }
  }
  // A linkage with an idler has every idler with every shock.
  CHECK(setup().of(0).design.choices() == 2);
  CHECK(setup().of(2).design.choices() == 4);
}

TEST_CASE("threads, slices and interruptions change nothing of a study of several linkages") {
  const test::Folder folder;
  const StudyFile whole = run_plan(folder, "whole.study", 1);
  CHECK(run_plan(folder, "two.study", 2).digest() == whole.digest());
  StudyFile gathered = StudyFile::create(folder.study("gathered.study"), test::study_head(the_brief()));
  for (std::int64_t slice : {2, 1}) {
    const StudyFile part = run_plan(folder, "part" + std::to_string(slice) + ".study", 1, slice, 2);
    gathered.commit(part.units());
  }
  CHECK(gathered.digest() == whole.digest());
  CHECK(search::shortlist_ids(setup(), gathered, plan) == search::shortlist_ids(setup(), whole, plan));
  StudyFile resumed = StudyFile::create(folder.study("resumed.study"), test::study_head(the_brief()));
  resumed.commit({*search::run_unit(setup(), 4, nullptr), *search::run_unit(setup(), 0, nullptr)});
  search::Budget budget;
  budget.units = plan;
  run_study(setup(), budget, resumed, {}, [](const search::Progress&) {});
  CHECK(resumed.digest() == whole.digest());
}

TEST_CASE("what is stored of a unit tells its linkage") {
  const test::Folder folder;
  const StudyFile file = run_plan(folder, "whole.study", 1);
  for (const store::UnitRow& unit : file.units()) CHECK(unit.linkage == unit.unit % 3);
  file.each_ranked([](const store::LayoutRow& layout) {
    CHECK(layout.linkage == layout.unit % 3);
    return true;
  });
  CHECK(digest_of(*search::run_unit(setup(), 1, nullptr)) != digest_of(*search::run_unit(setup(), 2, nullptr)));
}

TEST_CASE("the report accounts for every linkage") {
  const test::Folder folder;
  const StudyFile file = run_plan(folder, "whole.study", 1);
  const search::StudyReport report = make_report(setup(), file, "three-1");
  REQUIRE(report.linkages.size() == 3);
  std::int64_t feasible = 0, screened = 0;
  for (const search::LinkageSheet& linkage : report.linkages) {
    INFO(linkage.name);
    CHECK(linkage.units == 2);
    CHECK(linkage.screened == 2 * 512);
    REQUIRE(linkage.best);
    CHECK(linkage.best->linkage == linkage.title);
    CHECK(linkage.best->assessment.feasible() == (linkage.feasible > 0));
    feasible += linkage.feasible;
    screened += linkage.screened;
    const auto listed = std::count_if(report.shortlist.begin(), report.shortlist.end(),
                                      [&](const search::Sheet& s) { return s.linkage == linkage.title; });
    CHECK((listed > 0) == (linkage.feasible > 0));
  }
  CHECK(feasible == report.summary.feasible);
  CHECK(screened == report.summary.screened);
  // By the drawn construction a single pivot's anti-rise at sag is that of the line to its pivot: with the pivot as
  // high as climbing asks for it lies beyond 75 %. The other two differ: one brakes by its coupler.
  CHECK(report.linkages[0].feasible == 0);
  CHECK(report.linkages[1].feasible > 0);
  for (const search::Sheet& sheet : report.shortlist) CHECK(sheet.assessment.feasible());
}

TEST_CASE("every linkage that can is on the shortlist") {
  SECTION("the last one of those that have more makes room") {
    search::Picker picker(3, 0.1, 3);
    CHECK(picked(picker, {row(0, 0, 1, 0), row(1, 0, 2, 0.5), row(2, 1, 3, 0), row(3, 1, 4, 0.5), row(4, 2, 5, 0)}) ==
          std::vector<std::int64_t>{0, 2, 4});
  }
  SECTION("more linkages than places") {
    search::Picker picker(1, 0.1, 3);
    CHECK(picked(picker, {row(0, 0, 1, 0), row(1, 0, 2, 0.5), row(2, 2, 3, 0), row(3, 1, 4, 0)}) ==
          std::vector<std::int64_t>{0, 2, 3});
  }
  SECTION("one that cannot is left out") {
    search::Picker picker(2, 0.1, 2);
    CHECK(picked(picker, {row(0, 0, 1, 0), row(1, 0, 2, 0.5), row(2, 1, 0, 0, false)}) ==
          std::vector<std::int64_t>{0, 1});
  }
  SECTION("the same place in two linkages is not the same layout") {
    search::Picker picker(2, 0.1, 2);
    CHECK(picked(picker, {row(0, 0, 1, 0), row(1, 1, 2, 0)}) == std::vector<std::int64_t>{0, 1});
  }
  SECTION("one linkage is as ever") {
    search::Picker picker(2, 0.1);
    CHECK(picked(picker, {row(0, 0, 1, 0), row(1, 0, 2, 0.05), row(2, 0, 3, 0.5), row(3, 0, 4, 0.9)}) ==
          std::vector<std::int64_t>{0, 2});
  }
}
