// trammel resume DIR [BRIEF] [--threads N] [--units N] [--time 8h] [--settled N] [--keep-free 64M]
#include <CLI/CLI.hpp>

#include "app/study.hpp"

namespace trammel::app {

namespace {

/// Results of another brief or another engine would not belong with those in the file.
void refuse_change(const OpenStudy& study, const std::optional<std::filesystem::path>& changed,
                   const std::filesystem::path& folder) {
  const store::StudyHead& before = study.file.head();
  store::StudyHead now = before;
  now.engine_version = search::engine_version();
  if (changed) now.brief_text = read_or_refuse(*changed).text;
  const std::string lines = differences_between(before, now);
  if (lines.empty()) return;
  throw BadInput("the study in " + folder.string() + " is not resumed, as these keys differ:\n" + lines +
                 "search the changed brief in a new folder" +
                 (before.engine_version == now.engine_version ? ", or resume without naming a brief" : ""));
}

}  // namespace

void add_resume(CLI::App& program, Call& call) {
  struct Arguments {
    std::filesystem::path folder;
    std::optional<std::filesystem::path> brief;
    RunFlags run;
  };
  CLI::App* verb = program.add_subcommand("resume", "Go on with a study that was stopped.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("folder", a->folder, "folder of the study")->required();
  verb->add_option("brief", a->brief, "refuse to go on unless this brief still says what the study was made from");
  add_run_flags(*verb, a->run);
  verb->callback([a, &call] {
    guarded(call, [&] {
      demand_own(a->folder);
      OpenStudy study(a->folder, true);
      check_run_flags(a->run);
      refuse_change(study, a->brief, a->folder);
      return run_and_report(call, study, a->folder, a->run);
    });
  });
}

}  // namespace trammel::app
