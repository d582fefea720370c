// The conflict of made-up impossible briefs, of which the answer is known beforehand.
#include "search/conflict.hpp"

#include <catch2/catch.hpp>

#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/shortlist.hpp"
#include "search/study.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"
#include "tests/support/close.hpp"
#include "tests/support/tree.hpp"

using namespace trammel;
using search::Concession;
using search::Conflict;
using search::Demand;
using test::within;

namespace {

const std::string trail = test::trail_brief().text;

std::string changed(std::string text, const std::string& old, const std::string& fresh) {
  const auto at = text.find(old);
  if (at == std::string::npos) throw std::runtime_error("not there: " + old);
  return text.replace(at, old.size(), fresh);
}

brief::Brief made_up(const std::string& text) {
  return test::brief_of(brief::read_text(text, "impossible.yaml"));
}

std::vector<std::string> names(const Conflict& conflict) {
  std::vector<std::string> out;
  for (const Concession& c : conflict.demands) out.push_back(c.demand.name);
  return out;
}

/// A witness does what it is there for: all demands of the conflict but one are met on the printed layout.
void check_witness(const brief::Brief& brief, const Conflict& conflict, const Concession& c) {
  INFO("dropped: " << c.demand.name);
  REQUIRE(c.dropped);
  const objectives::Assessment a = search::assess_layout(c.dropped->layout, brief.targets, brief.packaging);
  for (const Concession& other : conflict.demands)
    if (!other.demand.rule && !(other.demand == c.demand)) CHECK(a.targets[other.demand.index].met);
  if (c.all_others) CHECK(a.musts - a.musts_met == 1);
}

}  // namespace

TEST_CASE("two bands on one curve: the conflict is those two, and the gap between them must be given") {
  // Anti-squat at sag of 96 to 108 % and of 120 to 130 % at once: 12 % apart.
  const brief::Brief brief = made_up(changed(
      trail, "targets:\n",
      "targets:\n  - { name: eager, curve: anti_squat, gear: 32x50, at: sag, band: [120, 130], must: true }\n"));
  const search::Setup setup(brief);
  const Conflict conflict = search::find_conflict(setup, {}, nullptr);
  CHECK(names(conflict) == std::vector<std::string>{"eager", "climbing"});
  CHECK(conflict.proven.size() == 1);
  CHECK_FALSE(conflict.found);
  for (const Concession& c : conflict.demands) {
    INFO(c.demand.name);
    check_witness(brief, conflict, c);
    CHECK(c.all_others);
    REQUIRE(c.amount);
    // Never less than the gap; over it by what a hundredth of the tolerance's margin costs.
    CHECK(*c.amount >= 12.0 - 1e-6);
    CHECK(*c.amount < 12.1);
    REQUIRE(c.rates.size() == 1);
    CHECK(c.rates[0] == within(1.0, 0.05));  // what the one gives, the other need not
    const objectives::Assessment shown = search::assess_layout(c.relaxed->layout, brief.targets, brief.packaging);
    CHECK(shown.targets[c.demand.index].violation == *c.amount);
    CHECK(shown.musts - shown.musts_met == 1);
  }
}

TEST_CASE("a box that a point's range never enters: the conflict is the box alone") {
  // main.x is between −25 and 20; the box begins at 30.
  const brief::Brief brief = made_up(changed(trail, "eye: { x: [-90, 20] }", "main: { x: [30, 60] }"));
  const search::Setup setup(brief);
  const Conflict conflict = search::find_conflict(setup, {}, nullptr);
  CHECK(names(conflict) == std::vector<std::string>{"box of main, x"});
  REQUIRE(conflict.demands.size() == 1);
  const Concession& c = conflict.demands[0];
  check_witness(brief, conflict, c);
  REQUIRE(c.amount);
  CHECK(*c.amount >= 10.0);
  CHECK(*c.amount <= 20.0);  // the last of the halvings of 256 mm, and what the other demands cost
  CHECK(conflict.proven.size() == 1);
}

TEST_CASE("demands that can all be met: the closer look finds a layout") {
  const brief::Brief brief = test::trail_brief();
  const search::Setup setup(brief);
  const Conflict conflict = search::find_conflict(setup, {}, nullptr);
  REQUIRE(conflict.found);
  CHECK(search::assess_layout(conflict.found->layout, brief.targets, brief.packaging).feasible());
  CHECK(conflict.demands.empty());
}

TEST_CASE("a conflict that is found and not proven, in a report, twice the same") {
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
  const std::vector<std::string> found = names(conflict);
  CHECK(std::count(found.begin(), found.end(), "climbing") == 1);
  CHECK(std::count(found.begin(), found.end(), "chain") == 1);
  for (const Concession& c : conflict.demands) {
    check_witness(brief, conflict, c);
    // A demand that has given so much is met: the brief so changed can be met as far as the conflict goes.
    REQUIRE(c.amount);
    CHECK(*c.amount > 0.0);
  }
  const search::StudyReport again = search::make_report(setup, file, "a study");
  REQUIRE(names(*again.conflict) == found);
  for (std::size_t i = 0; i < found.size(); ++i) {
    CHECK(again.conflict->demands[i].amount == conflict.demands[i].amount);
    CHECK(again.conflict->demands[i].rates == conflict.demands[i].rates);
    CHECK(again.conflict->demands[i].dropped->design == conflict.demands[i].dropped->design);
  }
  const std::atomic<bool> stop = true;
  CHECK_THROWS_AS(search::make_report(setup, file, "a study", {.stop = &stop}), search::Stopped);
  CHECK_THROWS_AS(search::find_conflict(setup, {}, &stop), search::Stopped);
}

TEST_CASE("demands of a brief, and a brief with some of them only") {
  const brief::Brief brief = test::trail_brief();
  const std::vector<Demand> all = search::demands_of(brief);
  std::vector<std::string> listed;
  for (const Demand& d : all) listed.push_back(d.name);
  CHECK(listed == std::vector<std::string>{
                      "least transmission angle", "least pivot distance", "tyre clearance", "shock clearance",
                      "box of mount, x", "box of mount, y", "box of eye, x", "travel", "climbing", "chain", "support",
                      "braking", "sound: leverage", "sound: rises of leverage", "sound: leverage at the ends",
                      "sound: anti-squat", "sound: anti-rise", "sound: chain slack", "sound: axle path"});
  const brief::Brief none = search::reduced(brief, {});
  CHECK(none.targets.empty());
  CHECK_FALSE(none.packaging.least_pivot_distance);
  CHECK(none.packaging.least_transmission_angle < 1.0);
  const brief::Brief some = search::reduced(brief, {all[5], all[8]});
  REQUIRE(some.targets.size() == 1);
  CHECK(some.targets[0].name == "climbing");
  CHECK_FALSE(some.packaging.boxes[0].x);
  CHECK(some.packaging.boxes[0].y);
  const brief::Brief whole = search::reduced(brief, all);
  CHECK(whole.targets.size() == 5 + 7);
  CHECK(whole.packaging.least_pivot_distance == brief.packaging.least_pivot_distance);
}
