// trammel search BRIEF [--out DIR] [--seed N] [--threads N] [--units N] [--time 8h] [--settled N]
//                      [--slice 3/16] [--keep-free 64M] [--report-every 10m] [--on-done COMMAND]
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include <charconv>

#include "app/references.hpp"
#include "app/study.hpp"
#include "brief/place.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::filesystem::path brief;
  std::optional<std::filesystem::path> out;
  std::optional<std::string> seed;
  std::optional<std::string> slice;
  RunFlags run;
};

/// results/<brief's file name>-<number>, the first number that is free.
std::filesystem::path free_folder(const std::filesystem::path& brief) {
  for (int number = 1;; ++number) {
    std::filesystem::path folder =
        std::filesystem::path("results") / (brief.stem().string() + "-" + std::to_string(number));
    if (!std::filesystem::exists(folder)) return folder;
  }
}

std::pair<std::int64_t, std::int64_t> parse_slice(const std::string& text) {
  std::int64_t slice = 0, slices = 0;
  const char* end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, slice);
  const bool slash = first.ec == std::errc() && first.ptr != end && *first.ptr == '/';
  const auto second = slash ? std::from_chars(first.ptr + 1, end, slices) : first;
  if (!slash || second.ec != std::errc() || second.ptr != end || slice < 1 || slice > slices)
    throw BadInput("--slice: '" + text + "' is not a slice; write e.g. 3/16, from 1/16 to 16/16");
  return {slice, slices};
}

std::uint64_t parse_seed(const std::string& text) {
  std::uint64_t seed = 0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, seed);
  if (read.ec != std::errc() || read.ptr != end)
    throw BadInput("--seed: '" + text + "' is not a whole number from 0 to 18446744073709551615");
  return seed;
}

store::StudyHead new_head(const brief::Brief& brief, const Arguments& a) {
  store::StudyHead head = head_of(brief);
  if (a.seed) head.seed = parse_seed(*a.seed);
  // A run by the clock, or until it has settled, has no end in its plan.
  if (a.run.time || a.run.settled) head.planned_units = 0;
  if (a.run.units) head.planned_units = *a.run.units;
  if (a.slice) std::tie(head.slice, head.slices) = parse_slice(*a.slice);
  if (a.run.settled && head.slices > 1)
    throw BadInput("--settled: a slice cannot tell when the whole study has settled; give --units N");
  return head;
}

/// A folder that holds a study is left alone, and its owner told how to go on with it.
void refuse_study(const std::filesystem::path& folder) {
  if (std::filesystem::exists(folder / study_file_name))
    throw BadInput("--out: a study is there already in " + folder.string() +
                   "; nothing is ever overwritten: go on with `trammel resume " + folder.string() +
                   "`, or choose another folder");
}

int run(const Arguments& a, Call& call) {
  const brief::Brief brief = read_or_refuse(a.brief);
  if (brief.vary.empty())
    throw BadInput(brief::problem_at(brief, "file",
                                     "nothing to search: a brief needs `vary` and `targets`; `trammel curves` prints "
                                     "the curves of a layout"));
  const store::StudyHead head = new_head(brief, a);
  check_run_flags(a.run);
  const auto references = references_of(brief);
  if (references) read_references(*references, &brief);
  search::Setup compiled(brief);  // refuses a linkage that is none before anything is written
  const std::filesystem::path folder = a.out.value_or(free_folder(a.brief));
  refuse_study(folder);
  make_out_folder(folder);
  if (references) keep_references(*references, folder / references_folder);
  OpenStudy study(store::StudyFile::create(folder / study_file_name, head));
  return run_and_report(call, study, folder, a.run);
}

}  // namespace

void add_search(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("search", "Run a study of a brief in a new folder and report on it.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("brief", a->brief, "brief file")->required();
  verb->add_option("--out", a->out, "folder of the study (default: results/<brief's file name>-<number>)");
  verb->add_option("--seed", a->seed, "seed (default: the brief's)");
  verb->add_option("--slice", a->slice, "run only one of so many shares of the plan, e.g. 3/16; `gather` joins them");
  add_run_flags(*verb, a->run);
  verb->callback([a, &call] { guarded(call, [&] { return run(*a, call); }); });
}

}  // namespace trammel::app
