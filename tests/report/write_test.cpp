#include "report/write.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "fixture.hpp"
#include "report/files.hpp"

using namespace trammel;
namespace fs = std::filesystem;

namespace {

/// A folder of its own that goes when the test ends.
struct Folder {
  fs::path path;
  Folder() {
    std::string name = (fs::temp_directory_path() / "trammel-report-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    path = name;
  }
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path, ignored);
  }
};

std::string content(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE(in);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

void put(const fs::path& path) {
  std::ofstream(path) << "kept";
}

}  // namespace

TEST_CASE("a second report replaces the first and leaves other files alone") {
  const Folder folder;
  auto study = test::invented_study();
  put(folder.path / "trammel.study");
  report::write_report(study, folder.path);
  REQUIRE(fs::exists(folder.path / "layouts" / "04" / "curves.csv"));
  put(folder.path / "layouts" / "03" / "notes.txt");
  put(folder.path / "layouts" / "readme.txt");

  study.shortlist.resize(2);
  report::write_report(study, folder.path);
  CHECK(fs::exists(folder.path / "layouts" / "02" / "loads.csv"));
  CHECK(fs::exists(folder.path / "layouts" / "02" / "index.html"));
  CHECK_FALSE(fs::exists(folder.path / "layouts" / "04"));
  CHECK_FALSE(fs::exists(folder.path / "layouts" / "03" / "index.html"));
  for (const char* kept : {"trammel.study", "layouts/03/notes.txt", "layouts/readme.txt"}) {
    CHECK(content(folder.path / kept) == "kept");
  }
}

TEST_CASE("the same study gives the same bytes") {
  const Folder a, b;
  report::write_report(test::invented_study(), a.path);
  report::write_report(test::invented_study(), b.path);
  int files = 0;
  for (const auto& entry : fs::recursive_directory_iterator(a.path)) {
    if (!entry.is_regular_file()) continue;
    ++files;
    CHECK(content(entry.path()) == content(b.path / fs::relative(entry.path(), a.path)));
  }
  CHECK(files == 5 + 2 + 4 * 13);  // assets, index and shortlist, four layouts of six files
}

TEST_CASE("a layout's page says what is usual for its kind of bike, and that nothing rests on it") {
  const Folder folder;
  auto study = test::invented_study();
  REQUIRE_FALSE(study.shortlist[0].guidance.empty());
  objectives::Remark& remark = study.shortlist[0].guidance.front();
  remark.verdict.achieved = 500.0;
  remark.verdict.met = false;
  REQUIRE_FALSE(remark.words().empty());
  report::write_report(study, folder.path);
  const std::string page = content(folder.path / "layouts" / "01" / "index.html");
  CHECK(page.find("What is usual for trail bikes.") != std::string::npos);
  CHECK(page.find("Common practice, no source") != std::string::npos);
  CHECK(page.find(std::string(remark.record->what)) != std::string::npos);
  CHECK(page.find(std::string(remark.words()).substr(0, 20)) != std::string::npos);
  study.shortlist[0].guidance.clear();
  report::write_report(study, folder.path);
  CHECK(content(folder.path / "layouts" / "01" / "index.html").find("What is usual") == std::string::npos);
}

TEST_CASE("remarks that are not about every case name those that they are about") {
  const Folder folder;
  auto study = test::invented_study();
  search::Sheet& sheet = study.shortlist[0];
  REQUIRE_FALSE(sheet.guidance.empty());
  search::CaseSheet low;
  low.name = "low";
  low.layout = sheet.layout;
  low.judged.assessment = sheet.assessment;
  low.guidance = sheet.guidance;
  low.guidance.front().verdict = {500.0};
  search::CaseSheet high = low;
  high.name = "high";
  high.guidance.front().verdict.achieved = 100.0;
  high.guidance.front().verdict.met = true;
  sheet.cases = {low, high};
  report::write_report(study, folder.path);
  const std::string page = content(folder.path / "layouts" / "01" / "index.html");
  CHECK(page.find(", in low</td>") != std::string::npos);
  CHECK(page.find(", in high</td>") != std::string::npos);
  CHECK(page.find(", in low, high</td>") == std::string::npos);
  CHECK(page.find("named where the remark is not about all of them") != std::string::npos);
}

TEST_CASE("a file that cannot be written is named") {
  const Folder folder;
  fs::create_directories(folder.path / "shortlist.csv");  // a folder where the file should go
  CHECK_THROWS_WITH(report::write_report(test::invented_study(), folder.path),
                    Catch::Matchers::Contains("shortlist.csv"));
  CHECK_THROWS_AS(report::write_file(folder.path / "no" / "such" / "place", "x"), std::runtime_error);
  // /dev/full takes no byte: what a full disk answers.
  if (fs::exists("/dev/full")) {
    CHECK_THROWS_WITH(report::write_file("/dev/full", std::string(100000, 'x')),
                      Catch::Matchers::Contains("/dev/full"));
  }
}

TEST_CASE("an empty study still gets its report") {
  const Folder folder;
  auto study = test::invented_study();
  study.shortlist.clear();
  study.marks.clear();
  study.summary.kept = study.summary.feasible = 0;
  report::write_report(study, folder.path);
  const std::string page = content(folder.path / "index.html");
  CHECK(page.find("No layout came far enough") != std::string::npos);
  CHECK(page.find("does not assemble at tail") != std::string::npos);
  CHECK(page.find("ISO 4210") != std::string::npos);
}

TEST_CASE("a layout without shock, gears, spring and masses is drawn and written") {
  const Folder folder;
  auto study = test::invented_study();
  study.brief.targets.clear();
  for (auto& sheet : study.shortlist) {
    auto& layout = sheet.layout;
    layout.shock.reset();
    layout.mass.reset();
    layout.drivetrain = {};
    layout.set_up = {};
    layout.loads = {};
    sheet.set_up.clear();
    sheet.loads.clear();
    layout.front.head_tube.reset();
    layout.mechanism.drive = {linkage::DriveKind::travel, -1, -1, false, layout.axle.point, -1, 150.0};
    std::erase_if(sheet.motion.table.columns, [](const bike::Column& column) {
      const auto needs = bike::record(column.key.curve).needs;
      return needs != bike::Needs::nothing;
    });
    sheet.assessment = {};
    sheet.account = {};
  }
  report::write_report(study, folder.path);
  const std::string page = content(folder.path / "layouts" / "01" / "index.html");
  CHECK(page.find("Anti-rise") != std::string::npos);
  CHECK(page.find("Leverage ratio</h3>") == std::string::npos);
  CHECK(content(folder.path / "layouts" / "01" / "curves.csv").starts_with("travel_mm,axle_x_mm,"));
}

TEST_CASE("what giving way is enough has a folder with its brief and its layout") {
  const Folder folder;
  search::StudyReport study = test::invented_study();
  search::WayOut way;
  search::Give give;
  give.demand.name = "climbing";
  give.demand.unit = "%";
  give.limit.path = "targets[0].band[0]";
  give.limit.value = 95.0;
  give.limit.way = -1;
  give.limit.unit = "%";
  give.amount = 3.0;
  way.gives = {give};
  way.brief_text = "trammel: 1\ntitle: Gives way\n";
  way.id = "4-1";
  way.shown.layout = test::invented_layout();
  study.conflict = search::Conflict{};
  study.conflict->ways = {way, way};
  report::write_report(study, folder.path);
  for (const char* place : {"conflict/01", "conflict/02"}) {
    CHECK(content(folder.path / place / "brief.yaml").find(way.brief_text) != std::string::npos);
    CHECK(content(folder.path / place / "layout.yaml").find("layout 4-1 of a search of the brief beside it") !=
          std::string::npos);
  }
  study.conflict.reset();
  report::write_report(study, folder.path);
  CHECK_FALSE(fs::exists(folder.path / "conflict"));
}
