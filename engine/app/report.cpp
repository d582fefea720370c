// trammel report DIR [--threads N] [--tables FORM] [--pdf]
#include <CLI/CLI.hpp>

#include "app/console.hpp"
#include "app/interrupt.hpp"
#include "app/paper.hpp"
#include "app/study.hpp"

namespace trammel::app {

void add_report(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("report", "Write the reports of a study again.");
  struct Arguments {
    std::filesystem::path folder;
    ReportFlags flags;
    bool pdf = false;
  };
  auto a = std::make_shared<Arguments>();
  verb->add_option("folder", a->folder, "folder of the study")->required();
  add_report_flags(*verb, a->flags);
  verb->add_flag("--pdf", a->pdf, "print pages, summaries and workshop drawings as PDF, too, by Chromium");
  verb->callback([a, &call] {
    guarded(call, [&] {
      const Interrupt interrupt;
      const std::optional<Press> press = a->pdf ? std::optional<Press>(std::in_place, "--pdf") : std::nullopt;
      demand_own(a->folder);
      int exit = write_study_report(call, OpenStudy(a->folder, false), a->folder, a->flags, interrupt.stop());
      if (press && exit != interrupted) {
        Console console;
        const auto status = [&](const std::string& what) { console.status(what); };
        if (!print_as_pdf(*press, a->folder, interrupt.stop(), status)) exit = interrupted;
        console.finish();
      }
      return exit;
    });
  });
}

}  // namespace trammel::app
