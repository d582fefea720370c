// The verbs of the command line: each file registers one, and says through its exit code how it ended.
#pragma once

#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>

#include "bike/table.hpp"
#include "brief/read.hpp"
#include "search/setup.hpp"

namespace trammel::app {

/// Exit codes of the program.
enum Exit : int {
  done = 0,
  failed = 1,         ///< something went wrong that is not the input's fault
  bad_input = 2,      ///< nothing was written
  nothing_meets = 3,  ///< done, but no layout meets every must
  interrupted = 4,    ///< stopped by the user, the clock or the disk before the plan was through; `resume` goes on
};

/// Registers a verb; when it has run, `exit` holds the code.
void add_curves(CLI::App& program, int& exit);
void add_check(CLI::App& program, int& exit);
void add_search(CLI::App& program, int& exit);
void add_resume(CLI::App& program, int& exit);
void add_gather(CLI::App& program, int& exit);
void add_report(CLI::App& program, int& exit);
void add_digest(CLI::App& program, int& exit);
void add_compare(CLI::App& program, int& exit);
void add_draft(CLI::App& program, int& exit);

/// An input that is refused; the text is complete, one line a problem.
struct BadInput : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Reads a brief or layout, or throws BadInput with all its problems.
brief::Brief read_or_refuse(const std::filesystem::path& file);

/// The refusal of a layout that does not move through its stroke, at the place of its linkage.
BadInput unmovable(const brief::Brief& brief, const bike::MotionFailure& failure);

/// Makes the folder that `--out` names; refuses one that holds something, and a path where none can be.
void make_out_folder(const std::filesystem::path& folder);

/// Runs `body` and turns what it throws into a message on stderr and an exit code.
int guarded(const std::function<int()>& body);

}  // namespace trammel::app
