// trammel gather DIR… --out DIR
#include <fmt/core.h>

#include "app/interrupt.hpp"
#include "app/references.hpp"
#include "app/study.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::vector<std::filesystem::path> folders;
  std::filesystem::path out;
};

/// What must be equal for results to belong together.
void refuse_strangers(const store::StudyHead& a, const store::StudyHead& b, const std::filesystem::path& folder) {
  std::string differing = differences_between(a, b);
  if (a.seed != b.seed) differing += "  seed: " + std::to_string(a.seed) + " → " + std::to_string(b.seed) + "\n";
  if (!differing.empty())
    throw BadInput(folder.string() + " does not belong with the first; these keys differ:\n" + differing);
}

/// Copies all units of one study into another, some at a time.
void copy_units(const store::StudyFile& from, store::StudyFile& to) {
  constexpr std::size_t batch_size = 256;
  std::vector<store::UnitRow> batch;
  from.each_unit([&](store::UnitRow&& unit) {
    batch.push_back(std::move(unit));
    if (batch.size() < batch_size) return;
    to.commit(batch);
    batch.clear();
  });
  to.commit(batch);
}

int run(const Arguments& a) {
  std::vector<store::StudyFile> parts;
  for (const auto& folder : a.folders) {
    const auto path = folder / study_file_name;
    if (!std::filesystem::exists(path)) throw BadInput("no study in " + folder.string());
    parts.push_back(store::StudyFile::read(path));
    refuse_strangers(parts.front().head(), parts.back().head(), folder);
  }
  store::StudyHead head = parts.front().head();
  head.slice = head.slices = 1;
  make_out_folder(a.out);
  const auto references = a.folders.front() / references_folder;
  if (std::filesystem::exists(references)) keep_references(references, a.out / references_folder);
  const Interrupt interrupt;
  OpenStudy study(store::StudyFile::create(a.out / study_file_name, head));
  for (const store::StudyFile& part : parts) copy_units(part, study.file);
  const std::int64_t missing = head.planned_units - study.file.totals().units;
  if (head.planned_units > 0 && missing > 0)
    fmt::print(stderr, "{} of {} units are still missing; `trammel resume {}` runs them\n", missing, head.planned_units,
               a.out.string());
  return write_study_report(study, a.out, std::nullopt, interrupt.stop());
}

}  // namespace

void add_gather(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("gather", "Join the slices of a study into one and report on it.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("folders", a->folders, "folders of the slices")->required();
  verb->add_option("--out", a->out, "folder of the joined study")->required();
  verb->callback([a, &exit] { exit = guarded([&] { return run(*a); }); });
}

}  // namespace trammel::app
