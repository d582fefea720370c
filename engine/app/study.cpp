#include "app/study.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <csignal>

#include "app/interrupt.hpp"
#include "app/print.hpp"
#include "app/references.hpp"
#include "app/run_flags.hpp"
#include "app/run_result.hpp"
#include "app/study_json.hpp"
#include "app/study_text.hpp"
#include "app/watch.hpp"
#include "brief/meaning.hpp"
#include "brief/notes.hpp"
#include "draft/onward.hpp"
#include "io/files.hpp"
#include "report/room_words.hpp"
#include "report/write.hpp"
#include "search/preflight.hpp"
#include "search/row_rules.hpp"
#include "search/shortlist.hpp"
#include "store/digest.hpp"
#include "store/row_rules.hpp"

namespace trammel::app {
namespace {

std::string size_text(std::uintmax_t bytes) {
  const double megabytes = static_cast<double>(bytes) / 0x1p20;
  return megabytes < 1.0 ? fmt::format("{} kB", bytes / 1024) : fmt::format("{:.1f} MB", megabytes);
}

const char* why_stopped(search::RunEnd end) {
  switch (end) {
    case search::RunEnd::out_of_time:
      return "out of time";
    case search::RunEnd::disk_low:
      return "stopped, as the disk is nearly full; what is committed is safe. Once there is room";
    default:
      return "interrupted";
  }
}

}  // namespace

brief::Brief brief_of(const store::StudyFile& file) {
  const store::StudyHead& head = file.head();
  const auto refuse = [&](const std::string& what) {
    const bool own = head.engine_version == search::engine_version();
    return store::StoreError(file.path().string() + ": table head: brief_text " + what +
                             (own ? "" : "\n(the study was made by " + head.engine_version + ")"));
  };
  brief::Reading reading = brief::read_text(head.brief_text, head.brief_file, true);
  if (!reading.ok()) throw refuse("is no brief:\n" + reading.message());
  // What a brief leaves out may mean something else to another engine, and its hash be another one.
  const bool own = head.engine_version == search::engine_version();
  if (own && store::sha256(brief::meaning_text(head.brief_text)) != head.brief_hash)
    throw refuse("is not the text that brief_hash was made of: one of the two was changed");
  brief::Brief brief = std::move(reading.brief);
  if (brief.vary.empty()) throw refuse("is a layout; a study has a brief that varies something");
  brief.search.seed = head.seed;
  for (brief::Brief& linkage : brief.linkages) linkage.search.seed = head.seed;
  return brief;
}

OpenStudy::OpenStudy(store::StudyFile made)
    : file(std::move(made)), brief(brief_of(file)), setup(std::make_unique<search::Setup>(brief)) {}

OpenStudy::OpenStudy(const std::filesystem::path& folder, bool for_writing) : OpenStudy(read_study_file(folder)) {
  const store::RowRules rules = search::row_rules(*setup);
  file.hold_to(rules);
  file.verify();
  if (!for_writing) return;
  const std::string hash = file.head().brief_hash;
  file = store::StudyFile::open(file.path());
  file.hold_to(rules);
  if (file.head().brief_hash != hash) throw store::StoreError(file.path().string() + ": was changed meanwhile");
}

store::StudyFile read_study_file(const std::filesystem::path& folder) {
  const std::filesystem::path path = folder / study_file_name;
  if (!std::filesystem::exists(std::filesystem::symlink_status(path)))
    throw BadInput("no study in " + folder.string() + ": " + path.string() + " is missing");
  return store::StudyFile::read(path);
}

void demand_own(const std::filesystem::path& folder) {
  try {
    for (const char* name : {"index.html", "shortlist.csv", "linkages.csv", "references.csv", "run.log"}) {
      try {
        io::demand_own_file(folder / name);
      } catch (const io::FileFailure& failure) {
        throw io::FileFailure((folder / name).string() + ": " + failure.what());
      }
    }
    for (const char* name : {"assets", "layouts", "linkages", "conflict", "trade_offs", references_folder})
      io::demand_no_links(folder / name);
  } catch (const io::FileFailure& failure) {
    throw store::StoreError(std::string(failure.what()) +
                            "; nothing is written through it, so move it out of the study's folder");
  }
}

store::StudyHead head_of(const brief::Brief& brief) {
  store::StudyHead head;
  head.engine_version = search::engine_version();
  head.brief_file = std::filesystem::path(brief.file).filename().string();
  head.brief_text = brief.text;
  head.brief_hash = store::sha256(brief::meaning_text(brief.text));
  head.seed = brief.search.seed;
  head.planned_units =
      static_cast<std::int64_t>(brief.search.units) * static_cast<std::int64_t>(brief::linkages_of(brief).size());
  return head;
}

std::string differences_between(const store::StudyHead& a, const store::StudyHead& b) {
  const auto shown = [](const std::string& value) { return value.empty() ? "left out" : value; };
  std::string lines;
  for (const brief::Difference& d : brief::differences(a.brief_text, b.brief_text))
    if (!d.notes) lines += "  " + d.path + ": " + shown(d.before) + " → " + shown(d.after) + "\n";
  if (a.engine_version != b.engine_version) lines += "  engine: " + a.engine_version + " → " + b.engine_version + "\n";
  return lines;
}

namespace {

/// A brief that goes on from a shortlisted layout; empty where nothing is left to move.
std::string go_on_from(const search::Sheet& sheet, const brief::Brief& of) {
  draft::Onward from;
  from.layout = sheet.whole();
  from.name = "layout " + sheet.id;
  from.notes = brief::notes_of(of).layout;
  from.of = of;
  try {
    return draft::onward(from);
  } catch (const draft::NoWayOn&) {
    return "";
  }
}

/// The report of a study as it stands, written into its folder. Throws search::Stopped.
search::StudyReport write_report_files(const OpenStudy& study, const std::filesystem::path& folder,
                                       const ReportFlags& flags, const std::atomic<bool>& stop,
                                       const std::function<void(const std::string&)>& status) {
  const std::string name = std::filesystem::absolute(folder).lexically_normal().filename().string();
  search::StudyReport report =
      search::make_report(*study.setup, study.file, name, {threads_for(flags.threads).count, &stop, status});
  if (std::filesystem::exists(folder / references_folder))
    report.references = search::judge_references(study.brief, read_references(folder / references_folder));
  for (search::Sheet& sheet : report.shortlist) sheet.go_on = go_on_from(sheet, report.brief);
  report::write_report(report, folder, flags.tables);
  return report;
}

/// What is known before the first unit.
void warn_ahead(const OpenStudy& study, Console& console) {
  for (std::int64_t l = 0; l < study.setup->linkage_count(); ++l) {
    const search::Setup& own = study.setup->of(l);
    const std::string which = own.brief.linkage.empty() ? "" : own.brief.linkage + ": ";
    for (const std::string& sentence : search::proven_conflicts(own.brief))
      console.warning(fmt::format("{}nothing can meet every requirement: {}", which, sentence));
    for (const std::string& sentence : search::probe(own).sentences)
      console.warning(fmt::format("{}{}", which, sentence));
  }
}

/// The units that are due, with a status line, and the report now and then.
search::RunEnd run_units(OpenStudy& study, const std::filesystem::path& folder, const RunFlags& flags,
                         const search::Budget& budget, const search::ThreadChoice& threads,
                         const Interrupt& interrupt) {
  Console console({.log = folder / "run.log"});
  study.setup->use(instructions_for(flags));
  console.info(fmt::format("{}, seed {}, {}; instruction set {}", study.brief.layout.title, study.brief.search.seed,
                           threads.why, name_of(study.setup->instruction_set)));
  warn_ahead(study, console);
  std::optional<search::Progress> last;
  Watch watch(*study.setup, budget);
  Every every(flags.report_every ? std::optional(parse_duration(*flags.report_every, "--report-every")) : std::nullopt);
  const auto report_now = [&] {
    try {
      const search::StudyReport report =
          write_report_files(study, folder, flags.report, interrupt.finish(),
                             [&](const std::string& what) { console.status("report while it runs: " + what); });
      console.info(fmt::format("report while it runs: {} units, {} layouts shortlisted", report.summary.units,
                               report.shortlist.size()));
    } catch (const search::Stopped&) {  // the one at the end follows
    }
  };
  const search::RunEnd end = search::run_study(
      *study.setup, budget, study.file, {&interrupt.finish(), &interrupt.stop()}, [&](const search::Progress& p) {
        if (!last && p.threads < budget.threads)
          console.warning(
              fmt::format("the system grants {} of the {} threads; it goes on so", p.threads, budget.threads));
        last = p;
        console.status(watch.status(p));
        every.at(p.seconds, report_now);
      });
  console.finish();
  console.info(last ? fmt::format("{} units, {} layouts screened, {} meet every requirement, in {}{}", last->units_done,
                                  last->screened, last->feasible, clock_text(last->seconds), losses(*last))
                    : "no unit was run");
  if (end == search::RunEnd::settled)
    console.info(fmt::format("settled: the last {} units put nothing new on the shortlist and brought no new family",
                             budget.settled));
  if (end == search::RunEnd::disk_low)
    console.warning(fmt::format("{} are free on the disk, and {} are to be kept", size_text(study.file.free_space()),
                                size_text(budget.keep_free)));
  return end;
}

const char* outcome_word(int exit) {
  return exit == done ? "done" : exit == nothing_meets ? "nothing_meets" : exit == interrupted ? "stopped" : "failed";
}

RunResult result_of(const std::optional<search::StudyReport>& report, const std::filesystem::path& folder, int exit) {
  RunResult out;
  out.outcome = outcome_word(exit);
  out.exit = exit;
  out.study = folder;
  out.reported = report.has_value();
  if (!report) return out;
  out.units = report->summary.units;
  out.screened = report->summary.screened;
  out.shortlisted = static_cast<std::int64_t>(report->shortlist.size());
  for (const search::Sheet& sheet : report->shortlist)
    out.meet_every_requirement += sheet.assessment.feasible() ? 1 : 0;
  if (report->shortlist.empty()) return out;
  const search::Sheet& first = report->shortlist.front();
  out.best = RunResult::Best{first.id, first.assessment.score, first.assessment.must_margin,
                             report::narrowest(report->brief.targets, first.assessment)};
  return out;
}

/// Writes the report, prints what it says in short where people read; nothing, told of, when it was stopped.
std::optional<search::StudyReport> report_and_print(const Call& call, const OpenStudy& study,
                                                    const std::filesystem::path& folder, const ReportFlags& flags,
                                                    const std::atomic<bool>& stop) {
  std::optional<search::StudyReport> report;
  try {
    Console console;
    report = write_report_files(study, folder, flags, stop,
                                [&](const std::string& what) { console.status("report: " + what); });
    console.finish();
  } catch (const search::Stopped&) {
    tell("stopped before the report was written; `trammel report " + folder.string() + "` writes it");
    return std::nullopt;
  }
  if (!call.json) print_report(*report, folder);
  return report;
}

/// The exit code of a report. A slice is done whatever it holds: whether the study meets its requirements shows when
/// the slices are joined.
int outcome_of(const std::optional<search::StudyReport>& report, const OpenStudy& study) {
  if (!report) return interrupted;
  const bool any = result_of(report, {}, done).meet_every_requirement > 0;
  return any || study.file.head().slices > 1 ? done : nothing_meets;
}

/// What a call answers of a run or report, for programs.
void answer(Call& call, const RunResult& result, const std::optional<search::StudyReport>& report) {
  if (!call.json) return;
  call.result = result_json(result);
  if (report) call.result.update(study_json(*report, result.study));
}

/// Runs and reports; the exit code, and what the report holds.
int run_to_the_end(const Call& call, OpenStudy& study, const std::filesystem::path& folder, const RunFlags& flags,
                   std::optional<search::StudyReport>& report) {
  const search::ThreadChoice threads = threads_for(flags.report.threads);
  const search::Budget budget = budget_of(study.file.head(), flags, threads);
  const Interrupt interrupt;
  const search::RunEnd end = run_units(study, folder, flags, budget, threads, interrupt);
  // Where the clock is all the plan there is, its end is the plan's.
  const bool planned = budget.units || budget.settled > 0;
  const bool stopped = end == search::RunEnd::interrupted || end == search::RunEnd::disk_low ||
                       (end == search::RunEnd::out_of_time && planned);
  int outcome = done;
  try {
    report = report_and_print(call, study, folder, flags.report, interrupt.stop());
    outcome = outcome_of(report, study);
  } catch (const std::exception& e) {
    if (end != search::RunEnd::disk_low) throw;
    tell(std::string("no report was written: ") + e.what());
  }
  if (!stopped) return outcome;
  tell(std::string(why_stopped(end)) + "; `trammel resume " + folder.string() + "` goes on");
  return interrupted;
}

}  // namespace

int run_and_report(Call& call, OpenStudy& study, const std::filesystem::path& folder, const RunFlags& flags) {
  // A reader that goes away ends the run, and what is written after it is lost; it does not end the program.
  std::signal(SIGPIPE, SIG_IGN);
  std::optional<search::StudyReport> report;
  int exit = failed;
  try {
    exit = run_to_the_end(call, study, folder, flags, report);
  } catch (...) {
    answer(call, result_of(report, folder, failed), report);
    if (flags.on_done) run_on_done(*flags.on_done, result_of(report, folder, failed), call.json);
    throw;
  }
  const RunResult result = result_of(report, folder, exit);
  answer(call, result, report);
  if (!call.json) print_out("{}\n", result_line(result));
  if (flags.on_done) run_on_done(*flags.on_done, result, call.json);
  return exit;
}

int write_study_report(Call& call, const OpenStudy& study, const std::filesystem::path& folder,
                       const ReportFlags& flags, const std::atomic<bool>& stop, bool whole) {
  const std::optional<search::StudyReport> report = report_and_print(call, study, folder, flags, stop);
  const int exit = whole ? outcome_of(report, study) : static_cast<int>(interrupted);
  answer(call, result_of(report, folder, exit), report);
  return exit;
}

}  // namespace trammel::app
