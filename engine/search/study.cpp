#include "search/study.hpp"

#include <tbb/concurrent_queue.h>
#include <tbb/global_control.h>
#include <tbb/task_arena.h>
#include <tbb/task_group.h>

#include <exception>
#include <mutex>
#include <set>

#include "search/basins.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

using Clock = std::chrono::steady_clock;

void count(const store::UnitRow& unit, Progress& progress) {
  ++progress.units_done;
  progress.screened += unit.screened;
  for (const store::FailureRow& f : unit.failures) progress.failures[f.cause] += f.count;
  for (const store::LayoutRow& row : unit.layouts) {
    if (row.musts_met == row.musts) ++progress.feasible;
    if (!progress.best || ranks_before(row, *progress.best)) progress.best = row;
  }
}

/// Hands out unit numbers in ascending order, until the plan, the time or the user ends it.
class Plan {
 public:
  Plan(const Budget& budget, const std::vector<std::int64_t>& done, const Tokens& tokens, Clock::time_point start)
      : budget_(budget), done_(done.begin(), done.end()), tokens_(tokens), start_(start), next_(budget.slice - 1) {}

  /// Whether the unit was committed by an earlier run.
  bool was_done(std::int64_t unit) const { return done_.count(unit) != 0; }

  /// Called by any thread.
  std::optional<std::int64_t> take() {
    const std::lock_guard lock(mutex_);
    if (closed_) return std::nullopt;
    while (done_.count(next_) != 0) next_ += budget_.slices;
    if (budget_.units && next_ >= *budget_.units) return std::nullopt;
    if (tokens_.finish != nullptr && tokens_.finish->load()) {
      end_ = RunEnd::interrupted;
      return std::nullopt;
    }
    if (budget_.time && Clock::now() - start_ >= *budget_.time) {
      end_ = RunEnd::out_of_time;
      return std::nullopt;
    }
    const std::int64_t unit = next_;
    next_ += budget_.slices;
    return unit;
  }
  void interrupt() {
    const std::lock_guard lock(mutex_);
    end_ = RunEnd::interrupted;
  }
  /// Something has failed: no further unit for anyone.
  void close() {
    const std::lock_guard lock(mutex_);
    closed_ = true;
  }
  /// Nothing new is to be expected: no further unit for anyone.
  void settle() {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    end_ = RunEnd::settled;
  }
  RunEnd end() const { return end_; }

 private:
  const Budget& budget_;
  std::set<std::int64_t> done_;
  Tokens tokens_;
  Clock::time_point start_;
  std::int64_t next_;
  RunEnd end_ = RunEnd::complete;
  bool closed_ = false;
  std::mutex mutex_;
};

/// What a worker passes to the committing thread: a unit, an exception, or the news that it has ended.
struct Message {
  std::optional<store::UnitRow> unit;
  std::exception_ptr failure;
  bool ended = false;
};

std::int64_t due(const Budget& budget) {
  return (*budget.units - budget.slice + budget.slices) / budget.slices;
}

}  // namespace

RunEnd run_study(const Setup& setup, const Budget& budget, store::StudyFile& file, const Tokens& tokens,
                 const std::function<void(const Progress&)>& report) {
  const Clock::time_point start = Clock::now();
  Progress progress;
  for (const store::UnitRow& unit : file.units()) count(unit, progress);
  progress.screened_before = progress.screened;
  if (budget.units) progress.units_due = due(budget);

  Plan plan(budget, file.committed(), tokens, start);
  std::optional<Settler> settler;
  if (budget.until_settled) {
    settler.emplace(setup.brief.search.distinct, file.units());
    if (settler->settled()) return RunEnd::settled;
  }
  tbb::concurrent_bounded_queue<Message> finished;
  const auto work = [&] {
    try {
      while (const auto unit = plan.take()) {
        std::optional<store::UnitRow> row = run_unit(setup, *unit, tokens.stop);
        if (!row) {
          plan.interrupt();
          break;
        }
        finished.push({std::move(row), nullptr, false});
      }
    } catch (...) {
      plan.close();
      finished.push({std::nullopt, std::current_exception(), false});
    }
    finished.push({std::nullopt, nullptr, true});
  };

  // The calling thread commits, so every unit runs on a worker: one more than the library would grant for so many.
  const tbb::global_control workers(tbb::global_control::max_allowed_parallelism,
                                    static_cast<std::size_t>(budget.threads) + 1);
  tbb::task_arena arena(budget.threads, 0);
  tbb::task_group group;
  std::exception_ptr failure;
  arena.execute([&] {
    for (int i = 0; i < budget.threads; ++i) group.run(work);
  });
  for (int running = budget.threads; running > 0;) {
    std::vector<store::UnitRow> batch;
    Message message;
    finished.pop(message);
    do {
      if (message.ended) --running;
      if (message.failure) failure = message.failure;
      if (message.unit) batch.push_back(std::move(*message.unit));
    } while (finished.try_pop(message));
    if (settler) {
      batch = settler->pass(std::move(batch));
      std::erase_if(batch, [&](const store::UnitRow& unit) { return plan.was_done(unit.unit); });
      if (settler->settled()) plan.settle();
    }
    if (batch.empty()) continue;
    try {
      file.commit(batch);
      for (const store::UnitRow& unit : batch) count(unit, progress);
      progress.seconds = std::chrono::duration<double>(Clock::now() - start).count();
      report(progress);
    } catch (...) {
      plan.close();
      failure = std::current_exception();
    }
  }
  arena.execute([&] { group.wait(); });
  if (failure) std::rethrow_exception(failure);
  return plan.end();
}

}  // namespace trammel::search
