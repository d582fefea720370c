// The data of a page's moving drawing against the motion that it shows.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "bike/reading.hpp"
#include "report/motion_figure.hpp"
#include "report/pages.hpp"
#include "report/scene.hpp"
#include "tests/report/fixture.hpp"

using namespace trammel;
using nlohmann::json;

namespace {

/// What the page's script will read.
json data_in(const std::string& page) {
  const std::string opening = "<script type=\"application/json\" id=\"motion-data\">";
  const std::size_t from = page.find(opening);
  REQUIRE(from != page.npos);
  const std::size_t to = page.find("</script>", from);
  return json::parse(page.substr(from + opening.size(), to - from - opening.size()));
}

}  // namespace

TEST_CASE("a moving drawing has every joint where the motion puts it, at every station") {
  const search::StudyReport study = test::invented_study();
  const search::Sheet& sheet = study.shortlist.front();
  const json data = data_in(report::motion_figure(sheet, study.brief, nullptr).str());
  const auto& poses = sheet.motion.poses;
  REQUIRE(data["stations"].size() == poses.size());
  const json& joints = data["parts"]["joints"];
  REQUIRE(joints.size() == sheet.layout.mechanism.points.size());
  std::size_t numbers = 2 * (joints.size() + data["parts"]["discs"].size());
  for (const json& stroke : data["parts"]["strokes"]) numbers += 2 * stroke["points"].get<std::size_t>();
  for (std::size_t k = 0; k < poses.size(); ++k) {
    const json& at = data["stations"][k];
    REQUIRE(at.size() == numbers);
    CHECK(data["travel"][k].get<double>() == poses[k].travel);
    CHECK(data["shock"][k].get<double>() == poses[k].shock);
    for (std::size_t j = 0; j < joints.size(); ++j) {
      CHECK(joints[j]["name"] == sheet.layout.mechanism.point_names[j]);
      CHECK(at[numbers - 2 * joints.size() + 2 * j].get<double>() == Approx(poses[k].points[j].x).margin(0.0051));
      CHECK(at[numbers - 2 * joints.size() + 2 * j + 1].get<double>() == Approx(poses[k].points[j].y).margin(0.0051));
    }
  }
}

TEST_CASE("a moving drawing's values are those of the curves, and its gears have a chain each") {
  const search::StudyReport study = test::invented_study();
  const search::Sheet& sheet = study.shortlist.front();
  const bike::Gear& second = sheet.layout.drivetrain.gears.at(1);
  const json data = data_in(report::motion_figure(sheet, study.brief, &second).str());
  CHECK(data["gear"] == 1);
  REQUIRE(data["gears"].size() == sheet.layout.drivetrain.gears.size());
  for (std::size_t g = 0; g < data["gears"].size(); ++g) {
    CHECK(data["gears"][g]["name"] == sheet.layout.drivetrain.gears[g].name());
    CHECK(data["gears"][g]["stations"].size() == sheet.motion.poses.size());
    CHECK(data["gears"][g]["parts"]["discs"].size() >= 2);
  }
  REQUIRE_FALSE(data["curves"].empty());
  const json& leverage = data["curves"][0];
  CHECK(leverage["name"] == "Leverage ratio");
  const bike::Values expected = bike::values(sheet.motion.table, {bike::Curve::leverage});
  REQUIRE(leverage["values"].size() == expected.size());
  for (std::size_t k = 0; k < expected.size(); ++k) {
    REQUIRE(expected[k]);
    CHECK(leverage["values"][k].get<double>() == *expected[k]);
  }
}

TEST_CASE("no name ends the data of a moving drawing") {
  const search::StudyReport study = test::hostile_study();
  const search::Sheet& sheet = study.shortlist.front();
  const json data = data_in(report::motion_figure(sheet, study.brief, nullptr).str());
  CHECK(data["parts"]["joints"][0]["name"] == sheet.layout.mechanism.point_names[0]);
}

TEST_CASE("a summary says on one sheet what a layout does") {
  const search::StudyReport study = test::invented_study();
  const std::string page = report::summary_page(study, study.shortlist[0], report::shortlisted(study, 0));
  for (const char* name : {"Travel", "Spring", "Pedalling", "Feet and chain", "Axle path"})
    CHECK(page.find(std::string(">") + name + "<") != page.npos);
  CHECK(page.find("ISO 4210") != page.npos);  // the cautions

  // Virtual work: the wheel's force is the shock's over the leverage ratio.
  const bike::Values leverage = bike::values(study.shortlist.front().motion.table, {bike::Curve::leverage});
  const double more = 100.0 * (leverage.front().value() / leverage.back().value() - 1.0);
  REQUIRE(more > 5.0);
  CHECK(page.find("carries " + std::to_string(std::lround(more)) + " % more at the wheel") != page.npos);
}

TEST_CASE("a moving drawing has the brief's bodies, moved with what they are fixed to") {
  search::StudyReport study = test::invented_study();
  const search::Sheet& sheet = study.shortlist.front();
  const std::size_t bare = data_in(report::motion_figure(sheet, study.brief, nullptr).str())["parts"]["strokes"].size();
  bike::Body tube;
  tube.name = "tube";
  tube.kind = bike::BodyKind::tube;
  tube.spots = {{-1, 0, {-20.0, 150.0}}, {-1, 0, {-120.0, 600.0}}};
  tube.diameter = 30.0;
  study.brief.packaging.bodies = {tube};
  const json data = data_in(report::motion_figure(sheet, study.brief, nullptr).str());
  const bike::BodyOutline outline =
      bike::body_outlines(sheet.layout, study.brief.packaging.bodies, sheet.topped_out.points).front();
  report::Scene drawn;
  report::add_bodies(drawn, {outline});
  REQUIRE_FALSE(drawn.strokes.empty());
  CHECK(data["parts"]["strokes"].size() == bare + drawn.strokes.size());
}
