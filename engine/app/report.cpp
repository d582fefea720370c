// trammel report DIR [--threads N] [--tables FORM]
#include <CLI/CLI.hpp>

#include "app/interrupt.hpp"
#include "app/study.hpp"

namespace trammel::app {

void add_report(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("report", "Write the reports of a study again.");
  struct Arguments {
    std::filesystem::path folder;
    ReportFlags flags;
  };
  auto a = std::make_shared<Arguments>();
  verb->add_option("folder", a->folder, "folder of the study")->required();
  add_report_flags(*verb, a->flags);
  verb->callback([a, &call] {
    guarded(call, [&] {
      const Interrupt interrupt;
      demand_own(a->folder);
      return write_study_report(call, OpenStudy(a->folder, false), a->folder, a->flags, interrupt.stop());
    });
  });
}

}  // namespace trammel::app
