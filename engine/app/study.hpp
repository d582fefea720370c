// What the verbs that run or read a study share.
#pragma once

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "app/console.hpp"
#include "app/verbs.hpp"
#include "report/csv_form.hpp"
#include "search/study.hpp"
#include "store/study_file.hpp"

namespace trammel::app {

inline constexpr const char* study_file_name = "trammel.study";

/// A study's brief as it was read when the study was made, and what is compiled from it.
struct OpenStudy {
  /// Of a file that has just been made.
  explicit OpenStudy(store::StudyFile made);
  /// The study in `folder`, whoever made it: it is looked through whole, and held to its brief from then on. Only then
  /// is it opened for writing. Throws BadInput when there is none, StoreError when it cannot be opened or is not sound.
  OpenStudy(const std::filesystem::path& folder, bool for_writing);
  OpenStudy(const OpenStudy&) = delete;  // its setup refers to its brief
  OpenStudy& operator=(const OpenStudy&) = delete;

  store::StudyFile file;
  brief::Brief brief;
  std::unique_ptr<search::Setup> setup;
};

/// The file of the study in `folder`, for reading. Throws BadInput when there is none.
store::StudyFile read_study_file(const std::filesystem::path& folder);

/// The brief that a study keeps. Throws StoreError when it is none, or not the one whose hash stands beside it.
brief::Brief brief_of(const store::StudyFile& file);

/// Throws StoreError when anything in the study's folder that a run or report would write is a symbolic link, which
/// would lead out of it, or no file or folder where it must be one.
void demand_own(const std::filesystem::path& folder);

/// How a report is worked out and written.
struct ReportFlags {
  std::optional<int> threads;
  report::TableForm tables = report::TableForm::commas;
};
void add_report_flags(CLI::App& verb, ReportFlags& flags);
/// `--tables`: how CSV files are written.
void add_tables_flag(CLI::App& verb, report::TableForm& tables);

/// Limits of a run that the command line may set.
struct RunFlags {
  ReportFlags report;
  std::optional<std::int64_t> units;
  std::optional<std::string> time;
  std::optional<std::int64_t> settled;
  std::string keep_free = "64M";
  std::optional<std::string> instructions;
  std::optional<std::string> report_every;
  std::optional<std::string> on_done;
};
void add_run_flags(CLI::App& verb, RunFlags& flags);
/// Throws BadInput when a run could not begin with these flags, so that this is known before anything is written.
void check_run_flags(const RunFlags& flags);

/// "90", "90s", "15m", "8h", "1h30m" as seconds; throws BadInput, naming the option.
double parse_duration(const std::string& text, const std::string& option);

/// "200K", "64M", "2G" or plain bytes as bytes; throws BadInput.
std::uintmax_t parse_size(const std::string& text);

/// What two studies, or a study and a brief, differ in, a line each: "targets[1].band: [96, 108] → [90, 108]".
/// Empty when they say the same.
std::string differences_between(const store::StudyHead& a, const store::StudyHead& b);

/// The head of a study of `brief` by this engine; its seed and plan are the brief's.
store::StudyHead head_of(const brief::Brief& brief);

/// Runs what is due of a study, with one status line and Ctrl-C handled, then writes its report. The last line on
/// standard output says in JSON how it ended, unless the call answers in JSON anyway. Returns the exit code.
int run_and_report(Call& call, OpenStudy& study, const std::filesystem::path& folder, const RunFlags& flags);

/// Writes the report of a study into its folder and prints where it is, with a status line while it is worked out;
/// nothing is written once `stop` reads true. Throws BadInput for a number of threads that cannot be.
/// Returns done, nothing_meets or interrupted. A slice is done whatever it holds: whether the study meets its
/// requirements shows when the slices are joined. One that is not `whole` counts as interrupted.
int write_study_report(Call& call, const OpenStudy& study, const std::filesystem::path& folder,
                       const ReportFlags& flags, const std::atomic<bool>& stop, bool whole = true);

}  // namespace trammel::app
