// Basins, the share not yet seen, and runs that end when they have settled.
#include "search/basins.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/study.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using search::Basins;

namespace {

store::UnitRow unit_with(std::int64_t id, const std::vector<std::vector<double>>& designs, std::int64_t refined) {
  store::UnitRow unit;
  unit.unit = id;
  unit.refined = refined;
  for (const auto& x : designs) {
    store::LayoutRow row;
    row.unit = id;
    row.place = static_cast<std::int64_t>(unit.layouts.size());
    row.design = x;
    row.musts = row.musts_met = 1;
    unit.layouts.push_back(row);
  }
  return unit;
}

}  // namespace

TEST_CASE("ends near a founder are in its basin; another choice is another basin") {
  Basins basins(0.1);
  CHECK(basins.unseen() == 1.0);
  CHECK_FALSE(basins.settled());
  CHECK(basins.add(0, std::vector<double>{0.5, 0.5}) == 0);
  CHECK(basins.add(0, std::vector<double>{0.5, 0.6}) == 0);  // RMS 0.07
  CHECK(basins.add(0, std::vector<double>{0.5, 0.7}) == 1);  // the founder counts, not the nearest end
  CHECK(basins.add(1, std::vector<double>{0.5, 0.5}) == 2);
  CHECK(basins.found() == 3);
  CHECK(basins.once() == 2);
  CHECK(basins.refinements() == 4);
  CHECK(basins.unseen() == 0.5);
  basins.add_fruitless(6);
  CHECK(basins.unseen() == 0.2);
}

TEST_CASE("the estimate is the share of draws that bring something new") {
  // Draws from 200 kinds, of which the k-th is met in proportion to 1/k. The true unseen share is known at each step,
  // and its mean over many repeats is what the estimate's mean must be near to: Good's estimator is off by less than
  // 1/draws (from memory), and 400 repeats leave an error of about 0.002.
  std::vector<double> weight(200);
  double all = 0.0;
  for (std::size_t k = 0; k < weight.size(); ++k) all += weight[k] = 1.0 / static_cast<double>(k + 1);
  std::mt19937_64 random(11);
  std::discrete_distribution<int> draw(weight.begin(), weight.end());
  for (int draws : {50, 200, 800}) {
    double estimated = 0.0, truth = 0.0;
    constexpr int repeats = 400;
    for (int repeat = 0; repeat < repeats; ++repeat) {
      Basins basins(0.001);
      std::vector<bool> seen(weight.size(), false);
      for (int i = 0; i < draws; ++i) {
        const int kind = draw(random);
        basins.add(0, std::vector<double>{kind / 200.0});
        seen[static_cast<std::size_t>(kind)] = true;
      }
      estimated += basins.unseen() / repeats;
      for (std::size_t k = 0; k < weight.size(); ++k)
        if (!seen[k]) truth += weight[k] / all / repeats;
    }
    INFO(draws << " draws: " << estimated << " estimated, " << truth << " true");
    CHECK(std::abs(estimated - truth) < 0.006 + 1.0 / draws);
  }
}

TEST_CASE("settled: hardly anything seen once, after enough refinements") {
  Basins basins(0.1);
  for (int i = 0; i < 49; ++i) basins.add(0, std::vector<double>{0.5});
  CHECK_FALSE(basins.settled());
  basins.add(0, std::vector<double>{0.5});
  CHECK(basins.settled());
  basins.add(0, std::vector<double>{0.9});
  CHECK_FALSE(basins.settled());
  Basins nothing(0.1);
  nothing.add_fruitless(499);
  CHECK_FALSE(nothing.settled());
  nothing.add_fruitless(1);
  CHECK(nothing.settled());
}

TEST_CASE("a unit's refinements that kept nothing count as well") {
  search::Basins basins(0.1);
  add_unit(unit_with(0, {{0.5}, {0.52}}, 10), basins);
  CHECK(basins.refinements() == 10);
  CHECK(basins.found() == 1);
  CHECK(basins.once() == 0);
  add_unit(unit_with(1, {{0.9}}, 10), basins);
  CHECK(basins.found() == 2);
  CHECK(basins.unseen() == 1.0 / 20.0);
}

TEST_CASE("a run until nothing new turns up: the same units on any number of threads, and after an interruption") {
  brief::Brief brief = test::quick_brief();
  brief.search.distinct = 0.45;  // few kinds, so that it soon settles
  const search::Setup setup(brief);
  search::Budget budget;
  budget.settled = 4;
  std::string digest;
  std::size_t units = 0;
  for (int threads : {1, 2, 3}) {
    const test::Folder folder;
    store::StudyFile file = store::StudyFile::create(folder.study(), test::study_head(brief));
    budget.threads = threads;
    CHECK(search::run_study(setup, budget, file, {}, [](const search::Progress&) {}) == search::RunEnd::settled);
    if (digest.empty()) {
      digest = file.digest();
      units = file.committed().size();
    }
    CHECK(file.committed().size() == units);
    CHECK(file.digest() == digest);
    // Nothing is left to do.
    CHECK(search::run_study(setup, budget, file, {}, [](const search::Progress&) {}) == search::RunEnd::settled);
    CHECK(file.digest() == digest);
  }
  CHECK(units >= 8);  // two rounds at least

  const test::Folder folder;
  {
    store::StudyFile file = store::StudyFile::create(folder.study(), test::study_head(brief));
    std::atomic<bool> stop = false;
    CHECK(search::run_study(setup, budget, file, {nullptr, &stop}, [&](const search::Progress& p) {
            stop = p.units_done >= 5;
          }) == search::RunEnd::interrupted);
  }
  store::StudyFile file = store::StudyFile::open(folder.study());
  search::run_study(setup, budget, file, {}, [](const search::Progress&) {});
  CHECK(file.digest() == digest);

  // A cap on the units holds.
  const test::Folder other;
  store::StudyFile capped = store::StudyFile::create(other.study(), test::study_head(brief));
  budget.units = 3;
  CHECK(search::run_study(setup, budget, capped, {}, [](const search::Progress&) {}) == search::RunEnd::complete);
  CHECK(capped.committed().size() == 3);
}
