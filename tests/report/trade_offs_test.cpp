// A front on the first page and as a file.
#include "report/trade_offs.hpp"

#include <catch2/catch.hpp>
#include <filesystem>

#include "fixture.hpp"
#include "report/pages.hpp"
#include "report/write.hpp"

using namespace trammel;

namespace {

std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (auto at = text.find(what); at != text.npos; at = text.find(what, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("a trade-off's page part says resolution, spread and hypervolume, and links each point's layout") {
  const search::StudyReport study = test::study_with_front();
  const std::string page = report::index_page(study);
  for (const char* words : {"Resolution 0.25", "0.321", "0.100 to 0.300 apart", "trade_offs/1.csv"})
    CHECK(page.find(words) != std::string::npos);
  for (const char* link : {"trade_offs/1/01/index.html", "trade_offs/1/02/index.html", "trade_offs/1/03/index.html"})
    CHECK(count(page, link) == 2);  // from plot and table
  CHECK(report::index_page(test::invented_study()).find("Trade-offs") == std::string::npos);
}

TEST_CASE("a front's axes are in the targets' units; of a group with several units it is said what they count in") {
  search::StudyReport study = test::study_with_front();
  const std::string single = report::trade_offs(study).str();
  CHECK(single.find("olerances") == std::string::npos);
  CHECK(single.find("climbing, beyond 95 to 115 % [%]") != std::string::npos);
  study.trade_offs.front().between = {{0, 3}, {1}};
  const std::string several = report::trade_offs(study).str();
  CHECK(several.find("climbing, progressivity [worst miss over tolerance]") != std::string::npos);
  CHECK(several.find("1 is a miss of 2.0 % of climbing, 0.020 of progressivity") != std::string::npos);
}

TEST_CASE("without a front, or with one point, the part says so") {
  search::StudyReport study = test::study_with_front();
  study.trade_offs.front().points.resize(1);
  CHECK(report::trade_offs(study).str().find("nothing to trade") != std::string::npos);
  study.trade_offs.front().points.clear();
  CHECK(report::trade_offs(study).str().find("nothing to show") != std::string::npos);
}

TEST_CASE("a trade-off's table and layouts are files") {
  const auto folder = std::filesystem::temp_directory_path() / "trammel-trade-offs-test";
  std::filesystem::remove_all(folder);
  const search::StudyReport study = test::study_with_front();
  report::write_report(study, folder);
  CHECK(std::filesystem::exists(folder / "trade_offs" / "1.csv"));
  for (const char* name : {"layout.yaml", "index.html", "summary.html", "curves.csv", "workshop.svg"})
    CHECK(std::filesystem::exists(folder / "trade_offs" / "1" / "03" / name));
  const std::string csv = report::trade_off_csv(study, study.trade_offs.front());
  CHECK(count(csv, "\r\n") == 4);
  // In the targets' own units: 1.5 tolerances of 2 % inside the band; a ceiling of 20° is half a degree off.
  CHECK(csv.starts_with("point,\"climbing, beyond 95 to 115 % [%]\",\"calm pedals, beyond at most 20° [°]\","));
  CHECK(csv.find("\r\n1,-3,0.5,") != std::string::npos);
  // A shorter front leaves no layout of a longer one behind.
  search::StudyReport shorter = study;
  shorter.trade_offs.front().points.pop_back();
  report::write_report(shorter, folder);
  CHECK_FALSE(std::filesystem::exists(folder / "trade_offs" / "1" / "03"));
  std::filesystem::remove_all(folder);
}
