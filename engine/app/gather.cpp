// trammel gather DIR… --out DIR
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include <set>

#include "app/interrupt.hpp"
#include "app/print.hpp"
#include "app/references.hpp"
#include "app/study.hpp"
#include "search/row_rules.hpp"
#include "store/digest.hpp"
#include "store/row_rules.hpp"

namespace trammel::app {
namespace {

struct Arguments {
  std::vector<std::filesystem::path> folders;
  std::filesystem::path out;
  ReportFlags flags;
};

/// What must be equal for results to belong together.
void refuse_strangers(const store::StudyHead& a, const store::StudyHead& b, const std::filesystem::path& folder) {
  std::string differing = differences_between(a, b);
  if (a.seed != b.seed) differing += "  seed: " + std::to_string(a.seed) + " → " + std::to_string(b.seed) + "\n";
  if (!differing.empty())
    throw BadInput(folder.string() + " does not belong with the first; these keys differ:\n" + differing);
}

/// The files of the other studies, each looked through and held to the brief of the first.
std::vector<store::StudyFile> open_parts(const OpenStudy& first, const std::vector<std::filesystem::path>& folders) {
  const store::RowRules rules = search::row_rules(*first.setup);
  std::vector<store::StudyFile> parts;
  for (std::size_t i = 1; i < folders.size(); ++i) {
    store::StudyFile part = read_study_file(folders[i]);
    brief_of(part);
    refuse_strangers(first.file.head(), part.head(), folders[i]);
    part.hold_to(rules);
    part.verify();
    parts.push_back(std::move(part));
  }
  return parts;
}

/// A unit that two studies hold must be the same in both: its results follow from brief, seed and number alone.
void refuse_differing(const std::vector<const store::StudyFile*>& parts) {
  for (std::size_t later = 1; later < parts.size(); ++later)
    parts[later]->each_unit([&](store::UnitRow&& unit) {
      for (std::size_t earlier = 0; earlier < later; ++earlier) {
        const auto other = parts[earlier]->unit(unit.unit);
        if (other && store::digest_of(*other) != store::digest_of(unit))
          throw BadInput(
              fmt::format("unit {} is another in {} than in {}, so that one of the two was changed; the same "
                          "brief and seed give the same unit everywhere",
                          unit.unit, parts[later]->path().string(), parts[earlier]->path().string()));
      }
    });
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

/// The slices of which no study was named, where all are slices of one division: "2/3, 3/3".
std::string missing_slices(const std::vector<const store::StudyFile*>& parts) {
  constexpr std::int64_t most_named = 20;
  const std::int64_t slices = parts.front()->head().slices;
  std::set<std::int64_t> there;
  for (const store::StudyFile* part : parts) {
    if (part->head().slices != slices) return "";
    there.insert(part->head().slice);
  }
  std::string names;
  std::int64_t missing = slices - static_cast<std::int64_t>(there.size()), named = 0;
  for (std::int64_t slice = 1; slice <= slices && named < std::min(missing, most_named); ++slice) {
    if (there.contains(slice)) continue;
    names += fmt::format("{}{}/{}", named++ == 0 ? "" : ", ", slice, slices);
  }
  return names + (missing > most_named ? fmt::format(" and {} more", missing - most_named) : "");
}

/// Says what is not there yet. False when that is nothing.
bool tell_missing(const std::vector<const store::StudyFile*>& parts, const store::StudyFile& all,
                  const std::filesystem::path& out) {
  const std::int64_t planned = all.head().planned_units, missing = planned - all.totals().units;
  const std::string slices = missing_slices(parts);
  const std::string named = slices.empty() ? "" : "; not named were the slices " + slices;
  if (planned > 0 && missing > 0)
    complain("{} of {} units are still missing{}; `trammel resume {}` runs them\n", missing, planned, named,
             out.string());
  else if (planned == 0 && !slices.empty())
    complain("the plan has no end of its own{}\n", named);
  else
    return false;
  return true;
}

int run(const Arguments& a, Call& call) {
  const OpenStudy first(a.folders.front(), false);
  const std::vector<store::StudyFile> others = open_parts(first, a.folders);
  std::vector<const store::StudyFile*> parts{&first.file};
  for (const store::StudyFile& other : others) parts.push_back(&other);
  refuse_differing(parts);
  const auto references = a.folders.front() / references_folder;
  const bool referenced = std::filesystem::exists(references);
  if (referenced) {
    demand_own(a.folders.front());
    read_references(references);
  }
  store::StudyHead head = first.file.head();
  head.slice = head.slices = 1;
  make_out_folder(a.out);
  if (referenced) keep_references(references, a.out / references_folder);
  const Interrupt interrupt;
  OpenStudy study(store::StudyFile::create(a.out / study_file_name, head));
  for (const store::StudyFile* part : parts) copy_units(*part, study.file);
  const bool whole = !tell_missing(parts, study.file, a.out);
  return write_study_report(call, study, a.out, a.flags, interrupt.stop(), whole);
}

}  // namespace

void add_gather(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("gather", "Join the slices of a study into one and report on it.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("folders", a->folders, "folders of the slices")->required();
  verb->add_option("--out", a->out, "folder of the joined study")->required();
  add_report_flags(*verb, a->flags);
  verb->callback([a, &call] { guarded(call, [&] { return run(*a, call); }); });
}

}  // namespace trammel::app
