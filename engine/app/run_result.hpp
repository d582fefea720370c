// How a run ended, for programs: the last line on standard output, and the command that is run then.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

#include "app/call.hpp"

namespace trammel::app {

struct RunResult {
  std::string outcome;  ///< "done", "nothing_meets", "stopped" or "failed"
  int exit = 0;         ///< the program's exit code
  std::filesystem::path study;
  bool reported = false;  ///< a report is there
  std::int64_t units = 0;
  std::int64_t screened = 0;
  std::int64_t shortlisted = 0;
  std::int64_t meet_every_requirement = 0;  ///< of the shortlisted
  /// The first of the shortlist.
  struct Best {
    std::string id;
    double score = 0.0;
    double required_margin = 0.0;
    std::string weakest_requirement;
  };
  std::optional<Best> best;
};

Json result_json(const RunResult& result);
/// The same in one line.
std::string result_line(const RunResult& result);

/// Hands the command to the system's shell, with TRAMMEL_OUTCOME, TRAMMEL_EXIT, TRAMMEL_STUDY, TRAMMEL_REPORT (empty
/// without one) and TRAMMEL_RESULT, the line above, in its environment. One that fails is told of on stderr and changes
/// nothing else. What it prints goes to standard error where `quiet`, so that a document stands alone.
void run_on_done(const std::string& command, const RunResult& result, bool quiet);

}  // namespace trammel::app
