// trammel digest DIR
#include <fmt/core.h>
#include <CLI/CLI.hpp>

#include "app/print.hpp"
#include "app/study.hpp"

namespace trammel::app {

void add_digest(CLI::App& program, Call& call) {
  CLI::App* verb = program.add_subcommand("digest", "Print one hash of all committed results.");
  auto folder = std::make_shared<std::filesystem::path>();
  verb->add_option("folder", *folder, "folder of the study")->required();
  verb->callback([folder, &call] {
    guarded(call, [&] {
      const std::string digest = OpenStudy(*folder, false).file.digest();
      if (call.json)
        call.result["digest"] = digest;
      else
        print_out("{}\n", digest);
      return static_cast<int>(done);
    });
  });
}

}  // namespace trammel::app
