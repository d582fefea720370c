// trammel resume DIR [--threads N] [--units N] [--time 8h] [--until-settled]
#include "app/study.hpp"

namespace trammel::app {

void add_resume(CLI::App& program, int& exit) {
  struct Arguments {
    std::filesystem::path folder;
    RunFlags run;
  };
  CLI::App* verb = program.add_subcommand("resume", "Go on with a study that was stopped.");
  auto a = std::make_shared<Arguments>();
  verb->add_option("folder", a->folder, "folder of the study")->required();
  add_run_flags(*verb, a->run);
  verb->callback([a, &exit] {
    exit = guarded([&] {
      OpenStudy study = open_study(a->folder, true);
      return run_and_report(study, a->folder, a->run);
    });
  });
}

}  // namespace trammel::app
