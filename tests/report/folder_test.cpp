// Writes whole reports for the scripts beside this file to read; hidden, for it needs a folder to write to.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>

#include "fixture.hpp"
#include "report/write.hpp"

using namespace trammel;

TEST_CASE("writes reports into the folder that TRAMMEL_REPORT_FOLDER names", "[.folder]") {
  const char* named = std::getenv("TRAMMEL_REPORT_FOLDER");
  REQUIRE(named != nullptr);
  const std::filesystem::path folder = named;
  std::filesystem::create_directories(folder / "study");
  std::filesystem::create_directories(folder / "hostile");
  const auto study = test::invented_study();
  report::write_report(study, folder / "study");
  report::write_report(test::hostile_study(), folder / "hostile");
  std::filesystem::create_directories(folder / "linkages");
  report::write_report(test::linkages_study(), folder / "linkages");
  report::write_comparison(study.shortlist, folder / "compare");
  CHECK(std::filesystem::exists(folder / "compare" / "index.html"));
}
