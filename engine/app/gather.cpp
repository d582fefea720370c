// trammel gather DIR… --out DIR
#include <fmt/core.h>

#include "app/study.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::vector<std::filesystem::path> folders;
  std::filesystem::path out;
};

/// What must be equal for results to belong together.
void refuse_strangers(const store::StudyHead& a, const store::StudyHead& b, const std::filesystem::path& folder) {
  std::string differing;
  const auto compare = [&](bool equal, const char* what) {
    if (!equal) differing += std::string(differing.empty() ? "" : ", ") + what;
  };
  compare(a.brief_hash == b.brief_hash, "brief");
  compare(a.seed == b.seed, "seed");
  compare(a.engine_version == b.engine_version, "engine version");
  if (!differing.empty())
    throw BadInput(folder.string() + " does not belong with the others: it differs in " + differing);
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
  OpenStudy study(store::StudyFile::create(a.out / study_file_name, head));
  for (const store::StudyFile& part : parts) study.file.commit(part.units());
  const auto missing = head.planned_units - static_cast<std::int64_t>(study.file.committed().size());
  if (head.planned_units > 0 && missing > 0)
    fmt::print(stderr, "{} of {} units are still missing; `trammel resume {}` runs them\n", missing, head.planned_units,
               a.out.string());
  return write_study_report(study, a.out);
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
