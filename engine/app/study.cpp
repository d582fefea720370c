#include "app/study.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "app/interrupt.hpp"
#include "report/write.hpp"
#include "search/basins.hpp"
#include "search/shortlist.hpp"
#include "search/threads.hpp"

namespace trammel::app {
namespace {

constexpr std::int64_t most_units = 1'000'000'000;

std::string clock_text(double seconds) {
  const long s = std::lround(seconds);
  if (s < 60) return fmt::format("{} s", s);
  if (s < 3600) return fmt::format("{} min {:02} s", s / 60, s % 60);
  return fmt::format("{} h {:02} min", s / 3600, s / 60 % 60);
}

std::string status_text(const search::Progress& p, const search::Budget& budget) {
  std::string text = fmt::format("unit {}", p.units_done);
  if (p.units_due) text += fmt::format(" of {}", *p.units_due);
  const auto screened = static_cast<double>(p.screened - p.screened_before);
  text += fmt::format(" · {} screened, {:.0f}/s · {} meet every must", p.screened,
                      p.seconds > 0 ? screened / p.seconds : 0.0, p.feasible);
  if (p.best)
    text += fmt::format(" · best {} (score {:.3g}, margin {:.2f})", search::layout_id(*p.best), p.best->score,
                        p.best->margin);
  const auto most = std::max_element(p.failures.begin(), p.failures.end(),
                                     [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most != p.failures.end())
    text += fmt::format(" · {:.0f} % {}", 100.0 * static_cast<double>(most->second) / static_cast<double>(p.screened),
                        most->first);
  if (budget.time) {
    text += " · " + clock_text(std::max(0.0, budget.time->count() - p.seconds)) + " left";
  } else if (p.units_due && screened > 0) {
    const auto done_units = screened * static_cast<double>(p.units_done) / static_cast<double>(p.screened);
    text +=
        " · about " + clock_text(static_cast<double>(*p.units_due - p.units_done) * p.seconds / done_units) + " left";
  }
  return text;
}

search::Budget budget_of(const store::StudyHead& head, const RunFlags& flags, const search::ThreadChoice& threads) {
  search::Budget budget;
  budget.slice = head.slice;
  budget.slices = head.slices;
  budget.threads = threads.count;
  if (flags.time) budget.time = std::chrono::duration<double>(parse_duration(*flags.time));
  if (head.planned_units > 0) budget.units = head.planned_units;
  if (flags.units) budget.units = *flags.units;
  budget.until_settled = flags.until_settled;
  if (budget.until_settled && budget.slices > 1)
    throw BadInput("--until-settled: a slice sees only its share of the plan and cannot tell when nothing new appears");
  if (!budget.units && !budget.time && !budget.until_settled)
    throw BadInput("this study has no end of its own: give --units N, --time T or --until-settled");
  return budget;
}

search::ThreadChoice threads_for(const RunFlags& flags) {
  try {
    return search::choose_threads(search::look_around(flags.threads));
  } catch (const std::invalid_argument& e) {
    throw BadInput(e.what());
  }
}

}  // namespace

OpenStudy::OpenStudy(store::StudyFile opened) : file(std::move(opened)) {
  brief::Reading reading = brief::read_text(file.head().brief_text, file.head().brief_file);
  if (!reading.ok()) throw BadInput(reading.message());
  brief = std::move(reading.brief);
  brief.search.seed = file.head().seed;
  setup = std::make_unique<search::Setup>(brief);
}

OpenStudy open_study(const std::filesystem::path& folder, bool for_writing) {
  const std::filesystem::path path = folder / study_file_name;
  if (!std::filesystem::exists(path))
    throw BadInput("no study in " + folder.string() + ": " + path.string() + " is missing");
  OpenStudy study(for_writing ? store::StudyFile::open(path) : store::StudyFile::read(path));
  if (for_writing && study.file.head().engine_version != search::engine_version())
    throw BadInput("the study in " + folder.string() + " was made by " + study.file.head().engine_version +
                   "; this is " + search::engine_version() + ", whose results would not belong with it");
  return study;
}

void add_run_flags(CLI::App& verb, RunFlags& flags) {
  verb.add_option("--threads", flags.threads, "threads (default: what this machine or its scheduler grants)");
  verb.add_option("--units", flags.units, "work units of the plan (default: the brief's)")
      ->check(CLI::Range(std::int64_t{1}, most_units));
  verb.add_option("--time", flags.time, "stop after so long, e.g. 90s, 15m, 8h, 1h30m");
  verb.add_flag("--until-settled", flags.until_settled,
                "stop when hardly anything new is to be expected; --units and --time still hold if given");
}

void check_run_flags(const RunFlags& flags) {
  threads_for(flags);
  if (flags.time) parse_duration(*flags.time);
}

double parse_duration(const std::string& text) {
  const auto refuse = [&] {
    return BadInput("--time: '" + text + "' is not a duration; write e.g. 90s, 15m, 8h or 1h30m");
  };
  double seconds = 0.0;
  const char* at = text.data();
  const char* end = at + text.size();
  while (at != end) {
    double number = 0.0;
    const auto [next, error] = std::from_chars(at, end, number, std::chars_format::fixed);
    if (error != std::errc() || !(number >= 0.0)) throw refuse();
    const char unit = next == end ? 's' : *next;
    if (unit != 's' && unit != 'm' && unit != 'h') throw refuse();
    seconds += number * (unit == 'h' ? 3600.0 : unit == 'm' ? 60.0 : 1.0);
    at = next == end ? end : next + 1;
  }
  if (!(seconds > 0.0) || seconds > 1e9) throw refuse();
  return seconds;
}

int run_and_report(OpenStudy& study, const std::filesystem::path& folder, const RunFlags& flags) {
  const search::ThreadChoice threads = threads_for(flags);
  const search::Budget budget = budget_of(study.file.head(), flags, threads);
  search::RunEnd end{};
  {
    Console console({.log = folder / "run.log"});
    console.info(fmt::format("{}, seed {}, {}", study.brief.layout.title, study.brief.search.seed, threads.why));
    const Interrupt interrupt;
    search::Progress last;
    end = search::run_study(*study.setup, budget, study.file, {&interrupt.finish(), &interrupt.stop()},
                            [&](const search::Progress& p) {
                              last = p;
                              console.status(status_text(p, budget));
                            });
    console.finish();
    if (end == search::RunEnd::settled)
      console.info(
          fmt::format("settled: at most about {:.0f} % of further refinements would bring a new kind of layout",
                      100.0 * search::Basins::settled_share));
    console.info(last.units_done == 0
                     ? "nothing was left to do"
                     : fmt::format("{} units, {} layouts screened, {} meet every must, in {}", last.units_done,
                                   last.screened, last.feasible, clock_text(last.seconds)));
  }
  const int outcome = write_study_report(study, folder);
  // Where the clock is all the plan there is, its end is the plan's.
  const bool out_of_time = end == search::RunEnd::out_of_time && budget.units;
  if (end != search::RunEnd::interrupted && !out_of_time) return outcome;
  fmt::print(stderr, "{}; `trammel resume {}` goes on\n", out_of_time ? "out of time" : "interrupted", folder.string());
  return interrupted;
}

int write_study_report(const OpenStudy& study, const std::filesystem::path& folder) {
  const search::StudyReport report = search::make_report(
      *study.setup, study.file, std::filesystem::absolute(folder).lexically_normal().filename().string());
  report::write_report(report, folder);
  const auto feasible = std::count_if(report.shortlist.begin(), report.shortlist.end(),
                                      [](const search::Sheet& s) { return s.assessment.feasible(); });
  fmt::print("{}: {} layouts shortlisted, {} of them meet every must\n", report.summary.study, report.shortlist.size(),
             feasible);
  fmt::print("report: {}\n", (folder / "index.html").string());
  return feasible > 0 ? done : nothing_meets;
}

}  // namespace trammel::app
