// The conflict of made-up impossible briefs, of which the answer is known beforehand, and that every way out holds.
#include "search/conflict.hpp"

#include <catch2/catch.hpp>

#include "brief/meaning.hpp"
#include "search/make_sheet.hpp"
#include "search/picker.hpp"
#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/shortlist.hpp"
#include "search/study.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"
#include "tests/support/close.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using search::Concession;
using search::Conflict;
using search::Demand;
using search::Give;
using search::WayOut;
using test::within;

namespace {

std::string changed(std::string text, const std::string& old, const std::string& fresh) {
  const auto at = text.find(old);
  if (at == std::string::npos) throw std::runtime_error("not there: " + old);
  return text.replace(at, old.size(), fresh);
}

/// The trail brief with little work in a unit, and few of them.
const std::string trail = changed(test::trail_brief().text, "search: { seed: 150, units: 48, shortlist: 8 }",
                                  "search: { seed: 150, units: 3, samples: 512, refine: 3, evaluations: 150 }");

std::string with_target(const std::string& text, const std::string& target) {
  return changed(text, "targets:\n", "targets:\n  - { " + target + ", must: true }\n");
}

brief::Brief made_up(const std::string& text) {
  return test::brief_of(brief::read_text(text, "impossible.yaml"));
}

Conflict conflict_of(const brief::Brief& brief) {
  const search::Setup setup(brief);
  return search::find_conflict(setup, 0, {}, {});
}

std::vector<std::string> names_of(const std::vector<Demand>& demands) {
  std::vector<std::string> out;
  for (const Demand& demand : demands) out.push_back(demand.name);
  return out;
}

std::vector<std::string> names_of(const Conflict& conflict) {
  std::vector<std::string> out;
  for (const Concession& c : conflict.demands) out.push_back(c.demand.name);
  return out;
}

std::vector<std::string> names_of(const WayOut& way) {
  std::vector<std::string> out;
  for (const Give& give : way.gives) out.push_back(give.demand.name);
  return out;
}

/// A study of the way's brief comes upon the layout, which meets every must of it; only numbers that are said to give
/// are changed; and by the brief's own measure the layout misses no more than they give.
void check_way(const brief::Brief& brief, const WayOut& way) {
  INFO(way.brief_text);
  const brief::Brief given = made_up(way.brief_text);
  std::vector<std::string> paths;
  for (const brief::Difference& d : brief::differences(brief.text, way.brief_text)) paths.push_back(d.path);
  CHECK(paths.size() <= way.gives.size());
  for (const std::string& path : paths)
    CHECK(std::any_of(way.gives.begin(), way.gives.end(),
                      [&](const Give& give) { return give.limit.path.starts_with(path); }));
  const search::Setup setup(given);
  const std::int64_t number = std::stoll(way.id);
  CHECK(number < given.search.units * setup.linkage_count());
  const auto unit = search::run_unit(setup, number, nullptr);
  const auto found = std::find_if(unit->layouts.begin(), unit->layouts.end(),
                                  [&](const store::LayoutRow& row) { return search::layout_id(row) == way.id; });
  REQUIRE(found != unit->layouts.end());
  CHECK(found->design == way.shown.design);
  CHECK(search::make_sheet(way.shown.layout, given.targets, given.packaging).assessment.feasible());
  const std::vector<Demand> all = search::demands_of(brief);
  for (const search::Miss& miss : search::misses(brief, all, way.shown.assessment)) {
    INFO(miss.demand.name);
    const auto give =
        std::find_if(way.gives.begin(), way.gives.end(), [&](const Give& g) { return g.demand == miss.demand; });
    REQUIRE(give != way.gives.end());
    CHECK(miss.by <= give->amount * give->limit.scale + 1e-9);
  }
}

void check_ways(const brief::Brief& brief, const Conflict& conflict) {
  for (const WayOut& way : conflict.ways) check_way(brief, way);
}

}  // namespace

TEST_CASE("two bands on one curve: the conflict is those two, and the gap between them must be given") {
  // Anti-squat at sag of 96 to 108 % and of 120 to 130 % at once: 12 % apart.
  const brief::Brief brief =
      made_up(with_target(trail, "name: eager, curve: anti_squat, gear: 32x50, at: sag, band: [120, 130]"));
  const Conflict conflict = conflict_of(brief);
  CHECK(names_of(conflict) == std::vector<std::string>{"eager", "climbing"});
  CHECK(conflict.proven.size() == 1);
  CHECK(conflict.found.empty());
  check_ways(brief, conflict);
  for (const Concession& c : conflict.demands) {
    INFO(c.demand.name);
    REQUIRE(c.way);
    CHECK(c.alone);
    const Give& give = conflict.ways[*c.way].gives.front();
    CHECK(give.demand == c.demand);
    // Never less than the gap; over it by the last place that is printed, and what refinement leaves.
    CHECK(give.amount >= 12.0);
    CHECK(give.amount <= 12.5);
    CHECK(give.limit.way == (c.demand.name == "eager" ? -1 : 1));
  }
  // Together they give the gap between them, and none gives it all.
  REQUIRE(conflict.ways.size() == 3);
  const WayOut& shared = conflict.ways[2];
  CHECK(names_of(shared) == std::vector<std::string>{"eager", "climbing"});
  CHECK(shared.gives[0].amount + shared.gives[1].amount >= 12.0);
  CHECK(shared.gives[0].amount + shared.gives[1].amount <= 12.5);
  CHECK(std::max(shared.gives[0].amount, shared.gives[1].amount) < 8.0);
}

TEST_CASE(
    "three bands of which no two go together: giving way alone is never enough, and what else conflicts is said") {
  // At most 70, 96 to 108, 120 to 130 % at once.
  const brief::Brief brief =
      made_up(with_target(with_target(trail, "name: eager, curve: anti_squat, gear: 32x50, at: sag, band: [120, 130]"),
                          "name: calm, curve: anti_squat, gear: 32x50, at: sag, ceiling: 70"));
  const Conflict conflict = conflict_of(brief);
  CHECK(names_of(conflict).size() == 2);
  check_ways(brief, conflict);
  for (const Concession& c : conflict.demands) {
    INFO(c.demand.name);
    CHECK_FALSE(c.alone);
    std::vector<std::string> then = names_of(c.then);
    CHECK(then.size() == 2);
    CHECK(std::count(then.begin(), then.end(), c.demand.name) == 0);
    REQUIRE(c.way);
    const WayOut& way = conflict.ways[*c.way];
    CHECK(way.gives.size() == 2);
    double sum = 0.0;
    for (const Give& give : way.gives) sum += give.amount;
    CHECK(sum >= 26.0);  // the least is to give from 96 and from 70 to the one from 120 to 130, or between
  }
}

TEST_CASE("a box that a point's range never enters: the conflict is the box alone") {
  // main.x is between −25 and 20; the box begins at 30.
  const brief::Brief brief = made_up(changed(trail, "eye: { x: [-90, 20] }", "main: { x: [30, 60] }"));
  const Conflict conflict = conflict_of(brief);
  CHECK(names_of(conflict) == std::vector<std::string>{"box of main, x"});
  REQUIRE(conflict.demands.size() == 1);
  check_ways(brief, conflict);
  REQUIRE(conflict.demands[0].alone);
  const Give& give = conflict.ways[*conflict.demands[0].way].gives.front();
  CHECK(give.limit.path == "packaging.boxes.main.x[0]");
  CHECK(give.amount >= 10.0);
  CHECK(give.amount <= 25.0);  // what the other demands cost at this budget
  CHECK(conflict.proven.size() == 1);
}

TEST_CASE("a derailleur that takes up too little chain gives whole teeth") {
  const brief::Brief brief = made_up(changed(trail, "packaging:\n", "packaging:\n  derailleur_capacity: 37\n"));
  const Conflict conflict = conflict_of(brief);
  check_ways(brief, conflict);
  const auto capacity = std::find_if(conflict.demands.begin(), conflict.demands.end(), [](const Concession& c) {
    return c.demand.name.starts_with("derailleur capacity");
  });
  REQUIRE(capacity != conflict.demands.end());
  REQUIRE(capacity->alone);
  const Give& give = conflict.ways[*capacity->way].gives.front();
  CHECK(give.limit.path == "packaging.derailleur_capacity");
  CHECK(give.limit.unit == "teeth");
  CHECK(give.amount == std::round(give.amount));
  CHECK(give.amount >= 1.0);
}

TEST_CASE("one setting that cannot be as low as asked") {
  const std::string text =
      with_target(changed(brief::read_file(test::in_tree("configs/flip-chip-140.yaml")).brief.text,
                          "units: 24, samples: 1024, refine: 4", "units: 2, samples: 256, refine: 2"),
                  "name: very low, curve: bb_height, at: topped_out, ceiling: 325, in: low");
  const brief::Brief brief = made_up(text);
  const Conflict conflict = conflict_of(brief);
  CHECK(names_of(conflict) == std::vector<std::string>{"very low"});
  check_ways(brief, conflict);
  CHECK(!conflict.ways.empty());
}

TEST_CASE("demands that can all be met: the closer look finds a layout") {
  const brief::Brief brief = test::trail_brief();
  const Conflict conflict = conflict_of(brief);
  REQUIRE(!conflict.found.empty());
  const search::Setup setup(brief);
  CHECK(search::assess_layout(setup.design.layout(conflict.found[0].design, 0), brief.targets, brief.packaging)
            .feasible());
  CHECK(conflict.demands.empty());
  for (const store::LayoutRow& row : conflict.found) {  // as a work unit would have told it
    const objectives::Assessment judged = search::Scorer(setup, static_cast<int>(row.choice)).assessment(row.design);
    std::vector<double> achieved;
    for (const objectives::Verdict& verdict : judged.targets) achieved.push_back(verdict.achieved);
    CHECK(row.achieved == achieved);
    CHECK(row.score == judged.score);
  }
}

TEST_CASE("a study that found nothing lists what a closer look found") {
  // Nothing is refined, so that no layout meets the musts; the study of one unit is then looked at closely.
  brief::Brief brief = test::trail_brief();
  const search::Setup setup(brief);
  const test::Folder folder;
  store::StudyFile file = store::StudyFile::create(folder.study(), test::study_head(brief));
  const search::StudyReport report = search::make_report(setup, file, "a study");  // of no unit at all
  REQUIRE(report.conflict);
  REQUIRE(!report.shortlist.empty());
  for (const search::Sheet& sheet : report.shortlist) {
    CHECK(sheet.closer_look);
    CHECK(sheet.assessment.feasible());
    CHECK(sheet.id.starts_with("closer-"));
  }
}

TEST_CASE("a conflict that is found and not proven, in a report, the same on one thread and on two") {
  const brief::Brief brief = test::brief_of(brief::read_file(test::in_tree("configs/impossible-160.yaml")));
  const search::Setup setup(brief);
  CHECK(search::proven_conflicts(brief).empty());
  const test::Folder folder;
  store::StudyFile file = store::StudyFile::create(folder.study(), test::study_head(brief));
  search::Budget budget;
  budget.units = 3;
  search::run_study(setup, budget, file, {}, [](const search::Progress&) {});
  const search::StudyReport report = search::make_report(setup, file, "a study");
  REQUIRE(report.conflict);
  const Conflict& conflict = *report.conflict;
  const std::vector<std::string> found = names_of(conflict);
  CHECK(std::count(found.begin(), found.end(), "climbing") == 1);
  CHECK(std::count(found.begin(), found.end(), "chain") == 1);
  check_ways(brief, conflict);
  CHECK(!conflict.ways.empty());
  const search::StudyReport again = search::make_report(setup, file, "a study", {.threads = 2});
  REQUIRE(names_of(*again.conflict) == found);
  REQUIRE(again.conflict->ways.size() == conflict.ways.size());
  for (std::size_t i = 0; i < conflict.ways.size(); ++i) {
    CHECK(again.conflict->ways[i].brief_text == conflict.ways[i].brief_text);
    CHECK(again.conflict->ways[i].shown.design == conflict.ways[i].shown.design);
  }
  const std::atomic<bool> stop = true;
  CHECK_THROWS_AS(search::make_report(setup, file, "a study", {.stop = &stop}), search::Stopped);
  CHECK_THROWS_AS(search::find_conflict(setup, 0, {}, {.stop = &stop}), search::Stopped);
}
