// What the verbs that run or read a study share.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "app/console.hpp"
#include "app/verbs.hpp"
#include "search/study.hpp"
#include "store/study_file.hpp"

namespace trammel::app {

inline constexpr const char* study_file_name = "trammel.study";

/// A study's brief as it was read when the study was made, and what is compiled from it.
struct OpenStudy {
  explicit OpenStudy(store::StudyFile opened);
  store::StudyFile file;
  brief::Brief brief;
  std::unique_ptr<search::Setup> setup;
};

/// Opens the study in `folder`; throws BadInput when there is none, StoreError when it cannot be opened.
OpenStudy open_study(const std::filesystem::path& folder, bool for_writing);

/// Limits of a run that the command line may set.
struct RunFlags {
  std::optional<int> threads;
  std::optional<std::int64_t> units;
  std::optional<std::string> time;
  bool until_settled = false;
};
void add_run_flags(CLI::App& verb, RunFlags& flags);
/// Throws BadInput when a run could not begin with these flags, so that this is known before anything is written.
void check_run_flags(const RunFlags& flags);

/// "90", "90s", "15m", "8h", "1h30m" as seconds; throws BadInput.
double parse_duration(const std::string& text);

/// Runs what is due of a study, with one status line and Ctrl-C handled, then writes its report. Returns the exit code.
int run_and_report(OpenStudy& study, const std::filesystem::path& folder, const RunFlags& flags);

/// Writes the report of a study into its folder and prints where it is. Returns done or nothing_meets.
int write_study_report(const OpenStudy& study, const std::filesystem::path& folder);

}  // namespace trammel::app
