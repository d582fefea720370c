#include "app/study.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "app/interrupt.hpp"
#include "app/references.hpp"
#include "brief/meaning.hpp"
#include "report/conflict_words.hpp"
#include "report/room_words.hpp"
#include "report/write.hpp"
#include "search/preflight.hpp"
#include "search/shortlist.hpp"
#include "search/threads.hpp"
#include "store/digest.hpp"

namespace trammel::app {
namespace {

constexpr std::int64_t most_units = 1'000'000'000;

std::string clock_text(double seconds) {
  const long s = std::lround(seconds);
  if (s < 60) return fmt::format("{} s", s);
  if (s < 3600) return fmt::format("{} min {:02} s", s / 60, s % 60);
  return fmt::format("{} h {:02} min", s / 3600, s / 60 % 60);
}

std::string size_text(std::uintmax_t bytes) {
  const double megabytes = static_cast<double>(bytes) / 0x1p20;
  return megabytes < 1.0 ? fmt::format("{} kB", bytes / 1024) : fmt::format("{:.1f} MB", megabytes);
}

/// Time left, by the clock or by the pace of this run; empty when neither tells.
std::string time_left(const search::Progress& p, const search::Budget& budget) {
  std::optional<double> left;
  const auto screened = static_cast<double>(p.screened - p.screened_before);
  if (p.units_due && screened > 0) {
    const auto done_units = screened * static_cast<double>(p.units_done) / static_cast<double>(p.screened);
    left = static_cast<double>(*p.units_due - p.units_done) * p.seconds / done_units;
  }
  if (budget.time) left = std::min(left.value_or(1e12), budget.time->count() - p.seconds);
  if (!left) return "";
  return " · about " + clock_text(std::max(0.0, *left)) + " left";
}

/// The causes of most losses, as shares of the screened.
std::string losses(const search::Progress& p) {
  constexpr std::size_t named = 3;
  std::vector<std::pair<std::string, std::int64_t>> causes(p.failures.begin(), p.failures.end());
  std::stable_sort(causes.begin(), causes.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
  std::string text;
  for (std::size_t i = 0; i < std::min(named, causes.size()); ++i)
    text +=
        fmt::format("{}{:.0f} % {}", i == 0 ? " · lost: " : ", ",
                    100.0 * static_cast<double>(causes[i].second) / static_cast<double>(p.screened), causes[i].first);
  if (causes.size() > named) text += fmt::format(" and {} more", causes.size() - named);
  return text;
}

/// Done, rate, feasible, best, time left, losses: the least needed last, as a narrow terminal cuts the line.
std::string status_text(const search::Progress& p, const search::Budget& budget) {
  std::string text = fmt::format("unit {}", p.units_done);
  if (p.units_due) text += fmt::format(" of {}", *p.units_due);
  const auto screened = static_cast<double>(p.screened - p.screened_before);
  text += fmt::format(" · {:.0f} layouts/s · {} meet every requirement", p.seconds > 0 ? screened / p.seconds : 0.0,
                      p.feasible);
  if (p.best)
    text += fmt::format(" · best {} (score {:.3g}, required margin {:.2f})", search::layout_id(*p.best), p.best->score,
                        p.best->must_margin);
  return text + time_left(p, budget) + losses(p);
}

search::Budget budget_of(const store::StudyHead& head, const RunFlags& flags, const search::ThreadChoice& threads) {
  search::Budget budget;
  budget.slice = head.slice;
  budget.slices = head.slices;
  budget.threads = threads.count;
  if (flags.time) budget.time = std::chrono::duration<double>(parse_duration(*flags.time));
  if (head.planned_units > 0) budget.units = head.planned_units;
  if (flags.units) budget.units = *flags.units;
  budget.settled = flags.settled.value_or(0);
  if (budget.settled > 0 && budget.slices > 1)
    throw BadInput("--settled: a slice cannot tell when the whole study has settled; give --units N");
  budget.keep_free = parse_size(flags.keep_free);
  if (!budget.units && !budget.time && budget.settled == 0)
    throw BadInput("this study has no end of its own: give --units N, --time T or --settled N");
  return budget;
}

/// The conflict in the sentences of the report.
void print_conflict(const search::StudyReport& report, const std::filesystem::path& folder) {
  if (const std::string nearest = report::nearest_in_words(report); !nearest.empty()) fmt::print("{}\n", nearest);
  for (const std::string& sentence : report.conflict->proven) fmt::print("proven: {}\n", sentence);
  for (const report::Sentence& sentence : report::conflict_sentences(report)) {
    const std::string where = sentence.folder.empty() ? "" : ": " + (folder / sentence.folder / "brief.yaml").string();
    fmt::print("{}{}\n", sentence.words, where);
  }
}

/// How many of the shortlist miss the yield that the brief asks for.
void print_yield(const search::StudyReport& report) {
  const std::optional<double>& asked = report.brief.search.yield;
  if (!asked || !report.brief.tolerances) return;
  const auto under = std::count_if(report.shortlist.begin(), report.shortlist.end(), [&](const search::Sheet& sheet) {
    return sheet.tolerance && sheet.tolerance->yield.share() < *asked;
  });
  if (under > 0)
    fmt::print("yield: {} of {} shortlisted do not reach the {:.4g} % asked for\n", under, report.shortlist.size(),
               100.0 * *asked);
}

/// How a linkage came out, in a line.
void print_linkage(const search::LinkageSheet& linkage) {
  if (!linkage.best) {
    fmt::print("  {}: no layout\n", linkage.name);
    return;
  }
  const objectives::Assessment& a = linkage.best->assessment;
  fmt::print("  {}: {} of {} kept meet every requirement; best {}, score {:.3g}, margin {:.2f}{}\n", linkage.name,
             linkage.feasible, linkage.kept, linkage.best->id, a.score, a.margin,
             a.feasible() ? "" : fmt::format(", {} of {} requirements", a.musts_met, a.musts));
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

search::ThreadChoice threads_for(std::optional<int> flag) {
  try {
    return search::choose_threads(search::look_around(flag));
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
  for (brief::Brief& linkage : brief.linkages) linkage.search.seed = brief.search.seed;
  setup = std::make_unique<search::Setup>(brief);
}

OpenStudy open_study(const std::filesystem::path& folder, bool for_writing) {
  const std::filesystem::path path = folder / study_file_name;
  if (!std::filesystem::exists(path))
    throw BadInput("no study in " + folder.string() + ": " + path.string() + " is missing");
  return OpenStudy(for_writing ? store::StudyFile::open(path) : store::StudyFile::read(path));
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
    lines += "  " + d.path + ": " + shown(d.before) + " → " + shown(d.after) + "\n";
  if (a.engine_version != b.engine_version) lines += "  engine: " + a.engine_version + " → " + b.engine_version + "\n";
  return lines;
}

void add_run_flags(CLI::App& verb, RunFlags& flags) {
  verb.add_option("--threads", flags.threads, "threads (default: what this machine or its scheduler grants)");
  verb.add_option("--units", flags.units, "work units of the plan (default: the brief's)")
      ->check(CLI::Range(std::int64_t{1}, most_units));
  verb.add_option("--time", flags.time, "stop after so long, e.g. 90s, 15m, 8h, 1h30m");
  verb.add_option("--settled", flags.settled,
                  "end when so many units in a row put nothing new on the shortlist and brought no new family")
      ->check(CLI::Range(std::int64_t{1}, most_units));
  verb.add_option("--keep-free", flags.keep_free, "stop when less is free on the disk, e.g. 200K, 64M, 2G; 0 = never")
      ->capture_default_str();
  verb.add_option("--instructions", flags.instructions,
                  "instruction set: baseline, avx2 or avx512 (default: the widest; the results are the same)");
}

/// The instruction set asked for; throws BadInput when this machine has none of that name.
objectives::InstructionSet instructions_for(const RunFlags& flags) {
  const std::vector<objectives::InstructionSet> usable = objectives::usable_instruction_sets();
  if (!flags.instructions) return usable.back();
  const auto set = objectives::find_instruction_set(*flags.instructions);
  if (set && std::find(usable.begin(), usable.end(), *set) != usable.end()) return *set;
  std::string names;
  for (objectives::InstructionSet s : usable) names += (names.empty() ? "" : ", ") + std::string(name_of(s));
  throw BadInput("--instructions: '" + *flags.instructions + "' is not an instruction set of this machine; it has " +
                 names);
}

void check_run_flags(const RunFlags& flags) {
  instructions_for(flags);
  threads_for(flags.threads);
  if (flags.time) parse_duration(*flags.time);
  parse_size(flags.keep_free);
}

std::uintmax_t parse_size(const std::string& text) {
  std::uint64_t number = 0;
  const char* end = text.data() + text.size();
  const auto [next, error] = std::from_chars(text.data(), end, number);
  const std::string unit(next, end);
  const int shift = unit.empty() ? 0 : unit == "K" ? 10 : unit == "M" ? 20 : unit == "G" ? 30 : -1;
  if (error != std::errc() || shift < 0 || number > (std::uint64_t{1} << 30))
    throw BadInput("--keep-free: '" + text + "' is not a size; write e.g. 200K, 64M or 2G");
  return number << shift;
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
  const search::ThreadChoice threads = threads_for(flags.threads);
  const search::Budget budget = budget_of(study.file.head(), flags, threads);
  const Interrupt interrupt;
  search::RunEnd end{};
  {
    Console console({.log = folder / "run.log"});
    study.setup->use(instructions_for(flags));
    console.info(fmt::format("{}, seed {}, {}; instruction set {}", study.brief.layout.title, study.brief.search.seed,
                             threads.why, name_of(study.setup->instruction_set)));
    for (std::int64_t l = 0; l < study.setup->linkage_count(); ++l) {
      const search::Setup& own = study.setup->of(l);
      const std::string which = own.brief.linkage.empty() ? "" : own.brief.linkage + ": ";
      for (const std::string& sentence : search::proven_conflicts(own.brief))
        console.warning(fmt::format("{}nothing can meet every requirement: {}", which, sentence));
      for (const std::string& sentence : search::probe(own).sentences)
        console.warning(fmt::format("{}{}", which, sentence));
    }
    std::optional<search::Progress> last;
    end = search::run_study(*study.setup, budget, study.file, {&interrupt.finish(), &interrupt.stop()},
                            [&](const search::Progress& p) {
                              last = p;
                              console.status(status_text(p, budget));
                            });
    console.finish();
    console.info(last ? fmt::format("{} units, {} layouts screened, {} meet every requirement, in {}{}",
                                    last->units_done, last->screened, last->feasible, clock_text(last->seconds),
                                    losses(*last))
                      : "no unit was run");
    if (end == search::RunEnd::settled)
      console.info(fmt::format("settled: the last {} units put nothing new on the shortlist and brought no new family",
                               budget.settled));
    if (end == search::RunEnd::disk_low)
      console.warning(fmt::format("{} are free on the disk, and {} are to be kept", size_text(study.file.free_space()),
                                  size_text(budget.keep_free)));
  }
  // Where the clock is all the plan there is, its end is the plan's.
  const bool planned = budget.units || budget.settled > 0;
  const bool stopped = end == search::RunEnd::interrupted || end == search::RunEnd::disk_low ||
                       (end == search::RunEnd::out_of_time && planned);
  int outcome = done;
  try {
    outcome = write_study_report(study, folder, flags.threads, interrupt.stop());
  } catch (const std::exception& e) {
    if (end != search::RunEnd::disk_low) throw;
    fmt::print(stderr, "no report was written: {}\n", e.what());
  }
  if (!stopped) return outcome;
  fmt::print(stderr, "{}; `trammel resume {}` goes on\n", why_stopped(end), folder.string());
  return interrupted;
}

int write_study_report(const OpenStudy& study, const std::filesystem::path& folder, std::optional<int> threads,
                       const std::atomic<bool>& stop) {
  const std::string name = std::filesystem::absolute(folder).lexically_normal().filename().string();
  search::StudyReport report;
  try {
    Console console;
    const auto status = [&](const std::string& what) { console.status("report: " + what); };
    report = search::make_report(*study.setup, study.file, name, {threads_for(threads).count, &stop, status});
    console.finish();
  } catch (const search::Stopped&) {
    fmt::print(stderr, "stopped before the report was written; `trammel report {}` writes it\n", folder.string());
    return interrupted;
  }
  if (std::filesystem::exists(folder / references_folder))
    report.references = search::judge_references(study.brief, read_references(folder / references_folder));
  report::write_report(report, folder);
  const auto feasible = std::count_if(report.shortlist.begin(), report.shortlist.end(),
                                      [](const search::Sheet& s) { return s.assessment.feasible(); });
  fmt::print("{}: {} layouts shortlisted, {} of them meet every requirement\n", report.summary.study,
             report.shortlist.size(), feasible);
  print_yield(report);
  for (const search::LinkageSheet& linkage : report.linkages) print_linkage(linkage);
  if (const std::string words = report::room_words(report); !words.empty()) fmt::print("{}\n", words);
  if (report.conflict) print_conflict(report, folder);
  fmt::print("report: {}\n", (folder / "index.html").string());
  return feasible > 0 || study.file.head().slices > 1 ? done : nothing_meets;
}

}  // namespace trammel::app
