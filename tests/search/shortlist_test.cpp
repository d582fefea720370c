// Which layouts are shown, and the report's own sums.
#include "search/shortlist.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/study.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::pick_distinct;
using store::LayoutRow;
using test::within;

namespace {

/// Random layouts in order of merit; `feasible` of a hundred meet every must.
std::vector<LayoutRow> random_rows(std::uint64_t seed, int count, int feasible, int choices = 1) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  std::vector<LayoutRow> rows;
  for (int i = 0; i < count; ++i) {
    LayoutRow row;
    row.unit = i;
    row.choice = i % choices;
    row.musts = 3;
    row.musts_met = 100.0 * unit(random) < feasible ? 3 : 2;
    row.score = unit(random);
    row.margin = unit(random);
    row.design = {unit(random), unit(random)};
    rows.push_back(row);
  }
  std::sort(rows.begin(), rows.end(), search::ranks_before);
  return rows;
}

}  // namespace

TEST_CASE("picked layouts are apart, in order, and nothing better was left out") {
  for (std::uint64_t seed : {1, 2, 3, 4}) {
    for (double distinct : {0.0, 0.05, 0.2}) {
      INFO("seed " << seed << ", distance " << distinct);
      const std::vector<LayoutRow> rows = random_rows(seed, 300, 50);
      const std::vector<LayoutRow> picked = pick_distinct(rows, 12, distinct);
      REQUIRE_FALSE(picked.empty());
      CHECK(picked.size() <= 12);
      CHECK(picked.front().unit == rows.front().unit);
      for (std::size_t i = 0; i < picked.size(); ++i) {
        CHECK(picked[i].musts_met == 3);
        for (std::size_t j = 0; j < i; ++j) {
          CHECK(search::ranks_before(picked[j], picked[i]));
          CHECK(search::distance(picked[i].design, picked[j].design) >= distinct);
        }
      }
      // Every layout that was passed over lies too near to a better one that was picked.
      for (const LayoutRow& row : rows) {
        const auto better = [&](const LayoutRow& p) { return !search::ranks_before(row, p); };
        if (row.musts_met != 3) break;
        if (picked.size() == 12 && search::ranks_before(picked.back(), row)) break;
        const bool covered = std::any_of(picked.begin(), picked.end(), [&](const LayoutRow& p) {
          return better(p) && (p.unit == row.unit || search::distance(p.design, row.design) < distinct);
        });
        CHECK(covered);
      }
    }
  }
}

TEST_CASE("layouts of different choices are different, however near their pivots") {
  std::vector<LayoutRow> rows = random_rows(5, 6, 100, 3);
  for (LayoutRow& row : rows) row.design = {0.5, 0.5};
  CHECK(pick_distinct(rows, 10, 0.1).size() == 3);
}

TEST_CASE("layouts that ride alike are one choice, however far apart their pivots") {
  brief::Brief brief = test::quick_brief();
  const search::Setup setup(brief);
  std::vector<store::UnitRow> units;
  for (int unit = 0; unit < 3; ++unit) units.push_back(*search::run_unit(setup, unit, nullptr));
  std::vector<LayoutRow> rows = search::ranked(units);
  for (LayoutRow& row : rows) row.musts_met = row.musts;  // so that all may be picked
  search::Feel feel(setup);
  const auto felt = [&](const LayoutRow& row) { return feel.of(row); };
  std::size_t least = rows.size(), most = 0;
  for (double apart : {0.0, 1.0, 4.0, 1e6}) {
    INFO(apart << " tolerances");
    search::Picker picker(50, 0.0, 1, apart, feel);
    for (const LayoutRow& row : rows) picker.offer(row);
    const std::vector<LayoutRow>& picked = picker.picked();
    REQUIRE_FALSE(picked.empty());
    for (std::size_t i = 0; i < picked.size(); ++i)
      for (std::size_t j = 0; j < i; ++j) CHECK(search::difference(felt(picked[i]), felt(picked[j])) >= apart);
    // What was passed over rides like a better one.
    for (const LayoutRow& row : rows)
      CHECK(std::any_of(picked.begin(), picked.end(), [&](const LayoutRow& p) {
        return search::layout_id(p) == search::layout_id(row) || search::difference(felt(p), felt(row)) < apart;
      }));
    least = std::min(least, picked.size());
    most = std::max(most, picked.size());
  }
  CHECK(most == rows.size());
  CHECK(least == 1);

  // The values are those that were judged: at single places the achieved ones.
  const std::vector<double> values = felt(rows.front());
  const search::Setup& s = setup;
  std::size_t next = 0;
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const std::size_t places = s.demands.front().allowed[t].size();
    if (places == 1) CHECK(values[next] * brief.targets[t].tolerance == within(rows.front().achieved[t], 1e-9));
    next += places;
  }
  CHECK(next == values.size());
}

TEST_CASE("layouts that miss a requirement appear only when none meets them all") {
  const std::vector<LayoutRow> none = random_rows(6, 50, 0);
  const std::vector<LayoutRow> nearest = pick_distinct(none, 5, 0.05);
  CHECK(nearest.size() == 5);
  for (const LayoutRow& row : nearest) CHECK(row.musts_met == 2);

  std::vector<LayoutRow> one = none;
  one.back().musts_met = 3;
  std::sort(one.begin(), one.end(), search::ranks_before);
  const std::vector<LayoutRow> only = pick_distinct(one, 5, 0.05);
  REQUIRE(only.size() == 1);
  CHECK(only.front().musts_met == 3);

  CHECK(pick_distinct({}, 5, 0.1).empty());
  CHECK(pick_distinct(none, 0, 0.1).empty());
}

TEST_CASE("ranking puts all layouts of all units in order of merit") {
  std::vector<store::UnitRow> units;
  std::size_t layouts = 0;
  for (std::int64_t id : {4, 2, 9}) {
    units.push_back(test::sample_unit(id));
    layouts += units.back().layouts.size();
  }
  const std::vector<LayoutRow> rows = search::ranked(units);
  REQUIRE(rows.size() == layouts);
  for (std::size_t i = 1; i < rows.size(); ++i) CHECK(search::ranks_before(rows[i - 1], rows[i]));
}

TEST_CASE("the file gives layouts in the same order of merit, ties included, and the same sums") {
  const test::Folder folder;
  store::StudyFile file = store::StudyFile::create(folder.study(), test::sample_head());
  std::mt19937 random(7);
  std::vector<store::UnitRow> units;
  for (int id = 0; id < 40; ++id) {
    units.push_back(test::sample_unit(id));
    for (LayoutRow& row : units.back().layouts) {
      // Few different numbers, so that every later criterion decides somewhere; −0 and 0 are one number.
      row.musts_met = static_cast<std::int64_t>(2 + random() % 3);
      row.score = random() % 3 == 0 ? -0.0 : static_cast<double>(random() % 2);
      row.margin = 0.002 * static_cast<double>(random() % 12) - 0.012;  // half hundredths among them
      row.must_margin = 0.1 * static_cast<double>(random() % 2);
      row.room = 0.125 * static_cast<double>(random() % 3);
    }
  }
  file.commit(units);
  std::vector<LayoutRow> from_file;
  file.each_ranked([&](LayoutRow&& row) {
    from_file.push_back(std::move(row));
    return true;
  });
  const std::vector<LayoutRow> rows = search::ranked(units);
  REQUIRE(from_file.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(search::layout_id(from_file[i]) == search::layout_id(rows[i]));
    CHECK(from_file[i].design == rows[i].design);
    CHECK(from_file[i].achieved == rows[i].achieved);
    CHECK(from_file[i].choice == rows[i].choice);
  }
  int offered = 0;
  file.each_ranked([&](const LayoutRow&) { return ++offered < 3; });
  CHECK(offered == 3);

  const store::Totals totals = file.totals();
  std::int64_t screened = 0, refined = 0, feasible = 0;
  std::map<std::string, std::int64_t> failures;
  for (const store::UnitRow& unit : units) {
    screened += unit.screened;
    refined += unit.refined;
    for (const auto& f : unit.failures) failures[f.cause] += f.count;
    for (const LayoutRow& row : unit.layouts) feasible += row.musts == row.musts_met;
  }
  CHECK(totals.units == 40);
  CHECK(totals.layouts == static_cast<std::int64_t>(rows.size()));
  CHECK(totals.screened == screened);
  CHECK(totals.refined == refined);
  CHECK(totals.feasible == feasible);
  CHECK(feasible > 0);
  CHECK(totals.failures == failures);
}

TEST_CASE("a report's sums, ids and marks agree with the study file") {
  const brief::Brief brief = test::quick_brief();
  const search::Setup setup(brief);
  const test::Folder folder;
  store::StudyFile file = store::StudyFile::create(folder.study(), test::study_head(brief));
  search::Budget budget;
  budget.units = 4;
  budget.threads = 2;
  search::run_study(setup, budget, file, {}, [](const search::Progress&) {});

  const search::StudyReport report = search::make_report(setup, file, "a study");
  std::int64_t screened = 0, refined = 0, kept = 0, lost = 0, counted = 0;
  for (const store::UnitRow& unit : file.units()) {
    screened += unit.screened;
    refined += unit.refined;
    kept += static_cast<std::int64_t>(unit.layouts.size());
    for (const auto& f : unit.failures) lost += f.count;
  }
  CHECK(report.summary.study == "a study");
  CHECK(report.summary.digest == file.digest());
  CHECK(report.summary.units == 4);
  CHECK(report.summary.screened == screened);
  CHECK(report.summary.refined == refined);
  CHECK(report.summary.kept == kept);
  for (std::size_t i = 0; i < report.summary.failures.size(); ++i) {
    counted += report.summary.failures[i].count;
    if (i > 0) CHECK(report.summary.failures[i].count <= report.summary.failures[i - 1].count);
  }
  CHECK(counted == lost);

  REQUIRE_FALSE(report.shortlist.empty());
  REQUIRE(report.marks.size() == static_cast<std::size_t>(kept));
  for (std::size_t i = 0; i < report.shortlist.size(); ++i) {
    const search::Sheet& sheet = report.shortlist[i];
    INFO("rank " << sheet.rank << ", layout " << sheet.id);
    CHECK(sheet.rank == static_cast<int>(i) + 1);
    CHECK(sheet.motion.poses.size() == 101);
    CHECK(sheet.topped_out.shock == 0.0);
    CHECK(sheet.bottomed.shock == within(57.5, 1e-12));
    CHECK(sheet.at_sag.travel == within(0.3 * sheet.bottomed.travel, 1e-9));
    REQUIRE(sheet.varied.size() == 11);
    for (const search::VariedValue& v : sheet.varied) {
      CHECK(v.value >= v.lo);
      CHECK(v.value <= v.hi);
    }
    int found = 0;
    for (const search::Mark& mark : report.marks) {
      if (mark.rank_in_shortlist != sheet.rank) continue;
      ++found;
      CHECK(mark.id == sheet.id);
      CHECK(mark.score == sheet.assessment.score);
      CHECK(mark.margin == sheet.assessment.margin);
      CHECK(mark.feasible == sheet.assessment.feasible());
    }
    CHECK(found == 1);
  }
}
