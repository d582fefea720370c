#include "search/study.hpp"

#include <algorithm>
#include <condition_variable>
#include <exception>
#include <limits>
#include <mutex>
#include <utility>

#include "search/families.hpp"
#include "search/shortlist.hpp"
#include "search/unit.hpp"
#include "search/workers.hpp"

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

/// The units of a slice that are done, as stretches of their ordinals in it: few, since units finish nearly in order,
/// and so a plan of any length takes little memory.
class Done {
 public:
  Done(const store::StudyFile& file, const Budget& budget) {
    file.each_committed([&](std::int64_t unit) {
      if (unit % budget.slices != budget.slice - 1) return;
      const std::int64_t ordinal = unit / budget.slices;
      if (!stretches_.empty() && stretches_.back().past == ordinal)
        ++stretches_.back().past;
      else
        stretches_.push_back({ordinal, ordinal + 1});
    });
  }
  /// The first ordinal from `ordinal` on that is not done; asked in ascending order.
  std::int64_t skip(std::int64_t ordinal) {
    while (at_ < stretches_.size() && stretches_[at_].past <= ordinal) ++at_;
    return at_ < stretches_.size() && stretches_[at_].first <= ordinal ? stretches_[at_].past : ordinal;
  }

 private:
  struct Stretch {
    std::int64_t first, past;
  };
  std::vector<Stretch> stretches_;
  std::size_t at_ = 0;
};

/// What earlier runs have done.
Progress progress_of(const store::StudyFile& file) {
  store::Totals totals = file.totals();
  Progress progress;
  progress.units_done = totals.units;
  progress.screened = progress.screened_before = totals.screened;
  progress.failures = std::move(totals.failures);
  progress.feasible = totals.feasible;
  file.each_ranked([&](store::LayoutRow&& row) {
    progress.best = std::move(row);
    return false;
  });
  return progress;
}

/// Hands out unit numbers in ascending order, until the plan, the time, the disk or the user ends it.
class Plan {
 public:
  Plan(const Budget& budget, const store::StudyFile& file, const Tokens& tokens, Clock::time_point start)
      : budget_(budget), done_(file, budget), tokens_(tokens), start_(start) {}

  /// Units from `unit` on wait for the next call of this.
  void open_until(std::int64_t unit) { gate_ = unit; }

  /// Called by any thread.
  std::optional<std::int64_t> take() {
    const std::lock_guard lock(mutex_);
    if (closed_) return std::nullopt;
    next_ = done_.skip(next_);
    const std::int64_t unit = budget_.slice - 1 + next_ * budget_.slices;
    if (unit >= gate_ || (budget_.units && unit >= *budget_.units)) return std::nullopt;
    if (tokens_.finish != nullptr && tokens_.finish->load()) {
      end_ = RunEnd::interrupted;
      return std::nullopt;
    }
    if (budget_.time && Clock::now() - start_ >= *budget_.time) {
      end_ = RunEnd::out_of_time;
      return std::nullopt;
    }
    ++next_;
    return unit;
  }
  /// No further unit for anyone.
  void close(RunEnd end) {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    end_ = end;
  }
  RunEnd end() const { return end_; }

 private:
  const Budget& budget_;
  Done done_;
  Tokens tokens_;
  Clock::time_point start_;
  std::int64_t next_ = 0;  ///< ordinal in the slice
  std::int64_t gate_ = std::numeric_limits<std::int64_t>::max();
  RunEnd end_ = RunEnd::complete;
  bool closed_ = false;
  std::mutex mutex_;
};

/// Between the workers and the thread that commits what they have finished.
class Handover {
 public:
  /// A worker's.
  void put(store::UnitRow unit) {
    const std::lock_guard lock(mutex_);
    units_.push_back(std::move(unit));
    changed_.notify_one();
  }
  /// A worker's last word, with what it failed on, if it did. Needs no memory, since there may be none left.
  void end(std::exception_ptr failure) {
    const std::lock_guard lock(mutex_);
    ++ended_;
    if (failure) failure_ = std::move(failure);
    changed_.notify_one();
  }
  /// Waits for units; none once that many workers have ended and nothing is left of them.
  std::vector<store::UnitRow> take(int workers) {
    std::unique_lock lock(mutex_);
    changed_.wait(lock, [&] { return !units_.empty() || ended_ == workers; });
    return std::exchange(units_, {});
  }
  std::exception_ptr failure() const { return failure_; }

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  std::vector<store::UnitRow> units_;
  int ended_ = 0;
  std::exception_ptr failure_;
};

std::int64_t due(const Budget& budget) {
  return (*budget.units - budget.slice + budget.slices) / budget.slices;
}

/// One stretch of a run: workers take units of the plan, the calling thread commits them.
class Run {
 public:
  Run(const Setup& setup, const Budget& budget, store::StudyFile& file, const Tokens& tokens,
      const std::function<void(const Progress&)>& report)
      : setup_(setup),
        budget_(budget),
        file_(file),
        tokens_(tokens),
        report_(report),
        plan_(budget, file, tokens, start_) {
    progress_ = progress_of(file);
    if (budget.units) progress_.units_due = due(budget);
  }

  RunEnd go() {
    watch_disk();
    if (budget_.settled == 0) {
      work_through();
      return plan_.end();
    }
    // In rounds, so that the end of the plan depends on no thread that ran ahead.
    std::vector<std::string> before, now;
    FamilyFinder families(setup_);
    try {
      for (std::int64_t past = budget_.settled;; past += budget_.settled) {
        plan_.open_until(past);
        work_through();
        const bool all = budget_.units && past >= *budget_.units;
        if (plan_.end() != RunEnd::complete || all) return plan_.end();
        now = shortlist_ids(setup_, file_, past);
        const bool new_family = brings_a_family(families, past);
        if (past > budget_.settled && now == before && !new_family) return RunEnd::settled;
        before = std::move(now);
      }
    } catch (const Stopped&) {
      return RunEnd::interrupted;
    }
  }

 private:
  /// Whether the round of units that ends before `past` brought a family without a layout of the rounds before.
  bool brings_a_family(FamilyFinder& families, std::int64_t past) const {
    file_.each_unit([&](store::UnitRow&& unit) {
      if (unit.unit >= past - budget_.settled && unit.unit < past) families.add(unit);
    });
    families.join({.threads = budget_.threads, .stop = tokens_.stop});
    return families.brought_a_family();
  }

  /// The next unit of the plan; none when there is no more, or this one is called off.
  std::optional<store::UnitRow> next_unit() {
    const auto unit = plan_.take();
    if (!unit) return std::nullopt;
    std::optional<store::UnitRow> row = run_unit(setup_, *unit, tokens_.stop);
    if (!row) plan_.close(RunEnd::interrupted);
    return row;
  }

  void work(Handover& finished) {
    std::exception_ptr failure;
    try {
      while (auto row = next_unit()) finished.put(std::move(*row));
    } catch (...) {
      plan_.close(RunEnd::interrupted);
      failure = std::current_exception();
    }
    finished.end(failure);
  }

  /// Until the plan gives out no more units. This thread commits; where the system grants no other, it works as well.
  void work_through() {
    Handover finished;
    std::exception_ptr failure;
    const std::function<void()> body = [&] { work(finished); };
    {
      const Workers workers(budget_.threads, body);
      progress_.threads = std::max(1, workers.count());
      try {
        if (workers.count() == 0)
          while (auto row = next_unit()) commit({std::move(*row)});
        for (std::vector<store::UnitRow> batch; !(batch = finished.take(workers.count())).empty();) commit(batch);
      } catch (...) {
        plan_.close(RunEnd::interrupted);
        failure = std::current_exception();
      }
    }
    if (failure) std::rethrow_exception(failure);
    if (finished.failure()) std::rethrow_exception(finished.failure());
  }

  void commit(const std::vector<store::UnitRow>& batch) {
    try {
      file_.commit(batch);
    } catch (const store::DiskFull&) {
      plan_.close(RunEnd::disk_low);
      return;
    }
    for (const store::UnitRow& unit : batch) count(unit, progress_);
    progress_.seconds = std::chrono::duration<double>(Clock::now() - start_).count();
    report_(progress_);
    watch_disk();
  }

  void watch_disk() {
    if (budget_.keep_free > 0 && file_.free_space() < budget_.keep_free) plan_.close(RunEnd::disk_low);
  }

  const Setup& setup_;
  const Budget& budget_;
  store::StudyFile& file_;
  const Tokens& tokens_;
  const std::function<void(const Progress&)>& report_;
  const Clock::time_point start_ = Clock::now();
  Progress progress_;
  Plan plan_;
};

}  // namespace

RunEnd run_study(const Setup& setup, const Budget& budget, store::StudyFile& file, const Tokens& tokens,
                 const std::function<void(const Progress&)>& report) {
  return Run(setup, budget, file, tokens, report).go();
}

}  // namespace trammel::search
