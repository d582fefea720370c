#include "app/run_flags.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <map>

namespace trammel::app {
namespace {

constexpr std::int64_t most_units = 1'000'000'000;

}  // namespace

search::Budget budget_of(const store::StudyHead& head, const RunFlags& flags, const search::ThreadChoice& threads) {
  search::Budget budget;
  budget.slice = head.slice;
  budget.slices = head.slices;
  budget.threads = threads.count;
  if (flags.time) budget.time = std::chrono::duration<double>(parse_duration(*flags.time, "--time"));
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

search::ThreadChoice threads_for(std::optional<int> flag) {
  try {
    return search::choose_threads(search::look_around(flag));
  } catch (const std::invalid_argument& e) {
    throw BadInput(e.what());
  }
}

void add_tables_flag(CLI::App& verb, report::TableForm& tables) {
  static const std::map<std::string, report::TableForm> forms{{"commas", report::TableForm::commas},
                                                              {"semicolons", report::TableForm::semicolons}};
  verb.add_option_function<std::string>(
          "--tables", [&tables](const std::string& word) { tables = forms.at(word); },
          "CSV files with commas and decimal points (the default), or with semicolons and decimal commas")
      ->check(CLI::IsMember({"commas", "semicolons"}));
}

void add_report_flags(CLI::App& verb, ReportFlags& flags) {
  verb.add_option("--threads", flags.threads, "threads (default: what this machine or its scheduler grants)");
  add_tables_flag(verb, flags.tables);
}

void add_run_flags(CLI::App& verb, RunFlags& flags) {
  add_report_flags(verb, flags.report);
  verb.add_option("--units", flags.units, "work units of the plan (default: the brief's)")
      ->check(CLI::Range(std::int64_t{1}, most_units));
  verb.add_option("--time", flags.time, "stop after so long, e.g. 90s, 15m, 8h, 1h30m");
  verb.add_option("--settled", flags.settled,
                  "end when so many units in a row put nothing new on the shortlist and brought no new family")
      ->check(CLI::Range(std::int64_t{1}, most_units));
  verb.add_option("--keep-free", flags.keep_free, "stop when less is free on the disk, e.g. 200K, 64M, 2G; 0 = never")
      ->capture_default_str();
  verb.add_option("--report-every", flags.report_every, "write the report again so often while it runs, e.g. 10m, 1h");
  verb.add_option(
      "--on-done", flags.on_done,
      "hand this command to the shell when the run has ended, however it did; TRAMMEL_OUTCOME, TRAMMEL_EXIT, "
      "TRAMMEL_STUDY, TRAMMEL_REPORT and TRAMMEL_RESULT tell it how");
  verb.add_option("--instructions", flags.instructions,
                  "instruction set: baseline, avx2 or avx512 (default: the widest; the results are the same)");
}

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
  threads_for(flags.report.threads);
  if (flags.time) parse_duration(*flags.time, "--time");
  if (flags.report_every) parse_duration(*flags.report_every, "--report-every");
  if (flags.on_done && flags.on_done->empty()) throw BadInput("--on-done: an empty command was given");
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

double parse_duration(const std::string& text, const std::string& option) {
  const auto refuse = [&] {
    return BadInput(option + ": '" + text + "' is not a duration; write e.g. 90s, 15m, 8h or 1h30m");
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

}  // namespace trammel::app
