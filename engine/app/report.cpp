// trammel report DIR
#include "app/interrupt.hpp"
#include "app/study.hpp"

namespace trammel::app {

void add_report(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("report", "Write the reports of a study again.");
  auto folder = std::make_shared<std::filesystem::path>();
  verb->add_option("folder", *folder, "folder of the study")->required();
  verb->callback([folder, &exit] {
    exit = guarded([&] {
      const Interrupt interrupt;
      return write_study_report(open_study(*folder, false), *folder, interrupt.stop());
    });
  });
}

}  // namespace trammel::app
