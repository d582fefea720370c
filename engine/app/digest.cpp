// trammel digest DIR
#include <fmt/core.h>

#include "app/print.hpp"
#include "app/study.hpp"

namespace trammel::app {

void add_digest(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("digest", "Print one hash of all committed results.");
  auto folder = std::make_shared<std::filesystem::path>();
  verb->add_option("folder", *folder, "folder of the study")->required();
  verb->callback([folder, &exit] {
    exit = guarded([&] {
      print_out("{}\n", OpenStudy(*folder, false).file.digest());
      return static_cast<int>(done);
    });
  });
}

}  // namespace trammel::app
