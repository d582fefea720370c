// What was met how often, the share not yet seen, and runs that end when they have settled.
#include "search/encounters.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "search/apart.hpp"
#include "search/study.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using search::Encounters;

TEST_CASE("things seen once tell of those not yet seen") {
  Encounters encounters;
  CHECK(encounters.unseen() == 1.0);
  for (const std::size_t which : {0, 0, 1, 2}) encounters.add(which);
  CHECK(encounters.found() == 3);
  CHECK(encounters.once() == 2);
  CHECK(encounters.refinements() == 4);
  CHECK(encounters.unseen() == 0.5);
  encounters.add_fruitless(6);
  CHECK(encounters.unseen() == 0.2);
  encounters.add(7);  // numbers may be left out
  CHECK(encounters.found() == 4);
}

TEST_CASE("designs near one that was counted are not counted again") {
  search::Apart apart(0.1);
  CHECK(apart.add(std::vector<double>{0.5, 0.5}) == 0);
  CHECK(apart.add(std::vector<double>{0.5, 0.6}) == 0);  // RMS 0.07
  CHECK(apart.add(std::vector<double>{0.5, 0.7}) == 1);  // the counted one matters, not the nearest
  CHECK(apart.count() == 2);
}

TEST_CASE("the estimate is the share of draws that bring something new") {
  // Draws from 200 things, of which the k-th is met in proportion to 1/k. The true unseen share is known at each step,
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
      Encounters encounters;
      std::vector<bool> seen(weight.size(), false);
      for (int i = 0; i < draws; ++i) {
        const int drawn = draw(random);
        encounters.add(static_cast<std::size_t>(drawn));
        seen[static_cast<std::size_t>(drawn)] = true;
      }
      estimated += encounters.unseen() / repeats;
      for (std::size_t k = 0; k < weight.size(); ++k)
        if (!seen[k]) truth += weight[k] / all / repeats;
    }
    INFO(draws << " draws: " << estimated << " estimated, " << truth << " true");
    CHECK(std::abs(estimated - truth) < 0.006 + 1.0 / draws);
  }
}

TEST_CASE("a run until nothing new turns up: the same units on any number of threads, and after an interruption") {
  brief::Brief brief = test::quick_brief();
  brief.search.distinct = 0.45;  // few layouts on the shortlist, so that it soon settles
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
