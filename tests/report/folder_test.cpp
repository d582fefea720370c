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

namespace {

/// Writes a report into a folder of that which TRAMMEL_REPORT_FOLDER names.
void write(const search::StudyReport& study, const char* name) {
  const char* named = std::getenv("TRAMMEL_REPORT_FOLDER");
  REQUIRE(named != nullptr);
  std::filesystem::create_directories(std::filesystem::path(named) / name);
  report::write_report(study, std::filesystem::path(named) / name);
}

}  // namespace

TEST_CASE("writes reports for a browser", "[.pages]") {
  auto study = test::invented_study();
  write(study, "study");
  write(test::hostile_study(), "hostile");
  write(test::linkages_study(), "linkages");
  auto two = test::linkages_study();
  two.shortlist[2].linkage = two.shortlist[3].linkage = two.linkages[1].title;
  write(two, "two");
  // As many targets as a demanding brief has: the first ones again, under names of their own.
  auto many = study;
  for (std::size_t i = 0; i < 14; ++i) {
    many.brief.targets.push_back(many.brief.targets[i % 6]);
    many.brief.targets.back().name += " " + std::to_string(i);
    for (auto& sheet : many.shortlist) sheet.assessment.targets.push_back(sheet.assessment.targets[i % 6]);
  }
  many.marks.clear();  // they would need values of these targets, too
  write(many, "many");
  study.shortlist.resize(1);
  write(study, "one");
  study.shortlist.clear();
  study.marks.clear();
  write(study, "none");
}

TEST_CASE("writes a report with a front, one with two hundred layouts, and a comparison", "[.crowd]") {
  write(test::study_with_front(), "front");
  auto crowd = test::invented_study();
  const std::vector<search::Sheet> few = crowd.shortlist;
  crowd.shortlist.clear();
  for (int i = 0; i < 200; ++i) {
    crowd.shortlist.push_back(few[static_cast<std::size_t>(i) % few.size()]);
    crowd.shortlist.back().rank = i + 1;
    crowd.shortlist.back().id = std::to_string(i + 1) + "-0";
  }
  write(crowd, "crowd");
  report::write_comparison(few, std::filesystem::path(std::getenv("TRAMMEL_REPORT_FOLDER")) / "compare");
}
