// Runs a study: the units of a plan on all threads, committed as they finish.
#pragma once

#include <atomic>
#include <chrono>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>

#include "search/setup.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// How far a run may go.
struct Budget {
  /// Units 0 … units − 1 of the plan are due; absent = the plan has no end and `time` must be set.
  std::optional<std::int64_t> units;
  std::optional<std::chrono::duration<double>> time;
  std::int64_t slice = 1;  ///< of these, only those with unit mod slices = slice − 1
  std::int64_t slices = 1;
  /// The plan also ends where so many units in a row, counted from 0 in rounds, put nothing new on the shortlist and
  /// brought no new family; 0 = it does not. For whole plans only, since a slice does not see the others.
  std::int64_t settled = 0;
  /// The run ends when less than so many bytes are free where the study lies; 0 = not watched.
  std::uintmax_t keep_free = 0;
  int threads = 1;
};

/// What a run has done so far, earlier runs of the same study included.
struct Progress {
  std::int64_t units_done = 0;
  std::optional<std::int64_t> units_due;
  std::int64_t screened = 0;
  std::map<std::string, std::int64_t> failures;  ///< of the screened, by cause
  std::int64_t feasible = 0;                     ///< refined layouts that meet every must
  std::optional<store::LayoutRow> best;
  double seconds = 0.0;              ///< of this run
  std::int64_t screened_before = 0;  ///< by earlier runs
  int threads = 1;                   ///< that the system has granted
};

struct Tokens {
  const std::atomic<bool>* finish = nullptr;  ///< set: begin no further unit
  const std::atomic<bool>* stop = nullptr;    ///< set: drop the units in hand
};

enum class RunEnd {
  complete,     ///< the plan is through
  settled,      ///< so is the plan, as nothing new turned up
  out_of_time,  ///< `Budget::time` is over
  interrupted,  ///< a token was set
  disk_low,     ///< less is free than `Budget::keep_free`, or nothing at all
};

/// Runs the units that are due and not yet in `file`, in ascending order, on `budget.threads` threads, and commits
/// each from the calling thread, which alone touches the file and calls `report`. However it ends, units that are
/// committed are whole and a later run goes on from there. Passes on what a unit throws.
RunEnd run_study(const Setup& setup, const Budget& budget, store::StudyFile& file, const Tokens& tokens,
                 const std::function<void(const Progress&)>& report);

}  // namespace trammel::search
