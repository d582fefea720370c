// The verbs of the command line: each file registers one, and says through its call how it ended.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <stdexcept>

#include "app/call.hpp"
#include "bike/table.hpp"
#include "brief/read.hpp"
#include "search/setup.hpp"

namespace CLI {
class App;
}

namespace trammel::app {

/// Exit codes of the program.
enum Exit : int {
  done = 0,
  failed = 1,         ///< something went wrong that is not the input's fault
  bad_input = 2,      ///< nothing was written
  nothing_meets = 3,  ///< done, but no layout meets every must
  interrupted = 4,    ///< stopped by the user, the clock or the disk before the plan was through; `resume` goes on
};

/// Registers a verb; when it has run, the call holds its exit code and, where JSON was asked for, what it found.
void add_curves(CLI::App& program, Call& call);
void add_check(CLI::App& program, Call& call);
void add_prove(CLI::App& program, Call& call);
void add_search(CLI::App& program, Call& call);
void add_resume(CLI::App& program, Call& call);
void add_gather(CLI::App& program, Call& call);
void add_report(CLI::App& program, Call& call);
void add_digest(CLI::App& program, Call& call);
void add_compare(CLI::App& program, Call& call);
void add_draft(CLI::App& program, Call& call);

/// An input that is refused, with everything that is wrong with it; the text has a line for each.
struct BadInput : std::runtime_error {
  explicit BadInput(std::vector<brief::Problem> all);
  explicit BadInput(brief::Problem one) : BadInput(std::vector{std::move(one)}) {}
  /// Of what has no place, such as an option; may have several lines.
  explicit BadInput(std::string what) : BadInput(brief::Problem{0, 0, "", std::move(what)}) {}
  std::vector<brief::Problem> problems;
};

/// Reads a brief or layout, or throws BadInput with all its problems.
brief::Brief read_or_refuse(const std::filesystem::path& file);

/// The refusal of a layout that does not move through its stroke, at the place of its linkage.
BadInput unmovable(const brief::Brief& brief, const bike::MotionFailure& failure);

/// Makes the folder that `--out` names; refuses one that holds something, and a path where none can be.
void make_out_folder(const std::filesystem::path& folder);

/// Runs `body` for the call's exit code, and turns what it throws into a message on stderr, a problem of the call and
/// an exit code.
void guarded(Call& call, const std::function<int()>& body);

}  // namespace trammel::app
