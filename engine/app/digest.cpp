// trammel digest DIR
#include <fmt/core.h>

#include "app/study.hpp"

namespace trammel::app {

void add_digest(CLI::App& program, int& exit) {
  CLI::App* verb = program.add_subcommand("digest", "Print one hash of all committed results.");
  auto folder = std::make_shared<std::filesystem::path>();
  verb->add_option("folder", *folder, "folder of the study")->required();
  verb->callback([folder, &exit] {
    exit = guarded([&] {
      const auto path = *folder / study_file_name;
      if (!std::filesystem::exists(path)) throw BadInput("no study in " + folder->string());
      fmt::print("{}\n", store::StudyFile::read(path).digest());
      return static_cast<int>(done);
    });
  });
}

}  // namespace trammel::app
