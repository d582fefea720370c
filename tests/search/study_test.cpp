// A study's results do not depend on threads, slices or interruptions.
#include "search/study.hpp"

#include <catch2/catch.hpp>
#include <thread>

#include "search/shortlist.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"

using namespace trammel;
using search::Budget;
using search::Progress;
using search::run_study;
using search::RunEnd;
using search::Setup;
using store::StudyFile;

namespace {

constexpr std::int64_t plan = 7;

const brief::Brief& the_brief() {
  static const brief::Brief brief = test::quick_brief();
  return brief;
}
const Setup& setup() {
  static const Setup made(the_brief());
  return made;
}
StudyFile new_file(const test::Folder& folder, const std::string& name = "trammel.study") {
  return StudyFile::create(folder.study(name), test::study_head(the_brief()));
}
Budget budget(std::int64_t units, int threads = 1) {
  Budget b;
  b.units = units;
  b.threads = threads;
  return b;
}
void ignore(const Progress&) {}

/// Digest of a plan of so many units, run straight through on one thread.
std::string straight_digest(std::int64_t units) {
  const test::Folder folder;
  StudyFile file = new_file(folder);
  run_study(setup(), budget(units), file, {}, ignore);
  return file.digest();
}
const std::string& whole_digest() {
  static const std::string digest = straight_digest(plan);
  return digest;
}

std::vector<std::int64_t> first(std::int64_t n) {
  std::vector<std::int64_t> ids;
  for (std::int64_t i = 0; i < n; ++i) ids.push_back(i);
  return ids;
}

}  // namespace

TEST_CASE("1, 2 and 3 threads: one digest") {
  for (int threads : {1, 2, 3}) {
    INFO(threads << " threads");
    const test::Folder folder;
    StudyFile file = new_file(folder);
    CHECK(run_study(setup(), budget(plan, threads), file, {}, ignore) == RunEnd::complete);
    CHECK(file.committed() == first(plan));
    CHECK(file.digest() == whole_digest());
  }
}

TEST_CASE("three slices put together are the whole plan") {
  const test::Folder folder;
  StudyFile whole = new_file(folder, "whole");
  std::size_t units = 0;
  // Gathered from the last slice to the first.
  for (std::int64_t slice : {3, 2, 1}) {
    StudyFile part = new_file(folder, "part" + std::to_string(slice));
    Budget b = budget(plan);
    b.slice = slice;
    b.slices = 3;
    std::int64_t due = -1;
    CHECK(run_study(setup(), b, part, {}, [&](const Progress& p) { due = p.units_due.value(); }) == RunEnd::complete);
    for (std::int64_t id : part.committed()) CHECK(id % 3 == slice - 1);
    CHECK(due == static_cast<std::int64_t>(part.committed().size()));
    units += part.committed().size();
    whole.commit(part.units());
  }
  CHECK(units == plan);
  CHECK(whole.digest() == whole_digest());
}

TEST_CASE("a share of the plan without any unit is complete at once") {
  const test::Folder folder;
  StudyFile part = new_file(folder);
  Budget b = budget(plan);
  b.slice = plan + 1;
  b.slices = plan + 1;
  CHECK(run_study(setup(), b, part, {}, ignore) == RunEnd::complete);
  CHECK(part.committed().empty());
}

TEST_CASE("stopped after k units and resumed: as if never stopped") {
  for (int threads : {1, 2}) {
    for (std::int64_t k : {1, 3}) {
      INFO("stopped after " << k << " units on " << threads << " threads");
      const test::Folder folder;
      {
        StudyFile file = new_file(folder);
        std::atomic<bool> finish = false;
        const RunEnd end = run_study(setup(), budget(100000, threads), file, {&finish, nullptr},
                                     [&](const Progress& p) { finish = p.units_done >= k; });
        CHECK(end == RunEnd::interrupted);
      }
      StudyFile file = StudyFile::open(folder.study());
      // Units finished while others were being committed are there too, and none in between is missing.
      const auto before = static_cast<std::int64_t>(file.committed().size());
      CHECK(before >= k);
      CHECK(before < 1000);
      CHECK(file.committed() == first(before));
      const std::int64_t units = std::max(before + 1, plan);
      std::int64_t seen = -1;
      CHECK(run_study(setup(), budget(units, threads), file, {}, [&](const Progress& p) {
              CHECK(p.units_done > before);  // earlier runs count
              CHECK(p.screened_before == before * the_brief().search.samples);
              seen = p.units_done;
            }) == RunEnd::complete);
      CHECK(seen == units);
      CHECK(file.digest() == straight_digest(units));
    }
  }
}

TEST_CASE("stopped at once: units in hand are dropped, and the next run makes up for them") {
  const test::Folder folder;
  StudyFile file = new_file(folder);
  std::atomic<bool> stop = false;
  CHECK(run_study(setup(), budget(100000, 2), file, {nullptr, &stop},
                  [&](const Progress& p) { stop = p.units_done >= 2; }) == RunEnd::interrupted);
  CHECK(file.committed().size() < 1000);
  const std::int64_t units = std::max(plan, file.committed().back() + 1);
  CHECK(run_study(setup(), budget(units, 2), file, {}, ignore) == RunEnd::complete);
  CHECK(file.committed() == first(units));
  CHECK(file.digest() == straight_digest(units));
}

TEST_CASE("a longer plan goes on from a shorter one") {
  const test::Folder folder;
  StudyFile file = new_file(folder);
  run_study(setup(), budget(2), file, {}, ignore);
  run_study(setup(), budget(4), file, {}, ignore);
  run_study(setup(), budget(plan), file, {}, ignore);
  CHECK(file.digest() == whole_digest());
  // Nothing is left to do, and a shorter plan takes nothing away.
  int calls = 0;
  CHECK(run_study(setup(), budget(3), file, {}, [&](const Progress&) { ++calls; }) == RunEnd::complete);
  CHECK(calls == 0);
  CHECK(file.digest() == whole_digest());
}

TEST_CASE("the clock ends a run between units, and only then") {
  const test::Folder folder;
  StudyFile file = new_file(folder);
  Budget b;
  b.time = std::chrono::milliseconds(1);
  CHECK(run_study(setup(), b, file, {}, ignore) == RunEnd::out_of_time);
  CHECK(file.committed().size() <= 1);

  // A plan that is through before its time is complete.
  b = budget(plan);
  b.time = std::chrono::hours(1);
  CHECK(run_study(setup(), b, file, {}, ignore) == RunEnd::complete);
  CHECK(file.digest() == whole_digest());
}

TEST_CASE("progress counts what the file holds") {
  const test::Folder folder;
  StudyFile file = new_file(folder);
  Progress last;
  const auto caller = std::this_thread::get_id();
  run_study(setup(), budget(plan, 3), file, {}, [&](const Progress& p) {
    CHECK(std::this_thread::get_id() == caller);
    CHECK(p.units_done > last.units_done);
    last = p;
  });
  std::int64_t screened = 0, feasible = 0;
  std::map<std::string, std::int64_t> failures;
  for (const store::UnitRow& unit : file.units()) {
    screened += unit.screened;
    for (const auto& f : unit.failures) failures[f.cause] += f.count;
    for (const auto& row : unit.layouts) feasible += row.musts == row.musts_met;
  }
  CHECK(last.units_done == plan);
  CHECK(last.units_due == plan);
  CHECK(last.screened == screened);
  CHECK(last.failures == failures);
  CHECK_FALSE(failures.empty());
  CHECK(last.feasible == feasible);
  // Of a slice those are due that it will have run.
  for (int slice = 1; slice <= 3; ++slice) {
    StudyFile part = new_file(folder, "slice-" + std::to_string(slice));
    Budget of_slice = budget(plan);
    of_slice.slice = slice;
    of_slice.slices = 3;
    std::int64_t due = 0;
    run_study(setup(), of_slice, part, {}, [&](const Progress& p) { due = p.units_due.value_or(0); });
    CHECK(due == (slice == 1 ? 3 : 2));  // seven in three
    CHECK(static_cast<std::int64_t>(part.units().size()) == due);
  }
  REQUIRE(last.best);
  const std::vector<store::LayoutRow> rows = search::ranked(file.units());
  CHECK(search::layout_id(*last.best) == search::layout_id(rows.front()));
}

TEST_CASE("what the committing side throws comes out, and the workers stop") {
  struct DiskFull {};
  const test::Folder folder;
  StudyFile file = new_file(folder);
  const auto start = std::chrono::steady_clock::now();
  CHECK_THROWS_AS(run_study(setup(), budget(1000000, 2), file, {}, [](const Progress&) { throw DiskFull{}; }),
                  DiskFull);
  CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(60));
  CHECK_FALSE(file.committed().empty());
}
