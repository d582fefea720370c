// How a layout's points are tied by its brief, in words.
#include "report/choices.hpp"

#include <catch2/catch.hpp>

#include "tests/report/fixture.hpp"

using namespace trammel;

namespace {

enum Name { main_pivot, stay, axle, rocker, tail, eye, mount };  // of the invented layout

}  // namespace

TEST_CASE("a point's tie is told by the points that it hangs on, and a free point has none") {
  search::StudyReport study = test::invented_study();
  const search::Sheet& sheet = study.shortlist.front();
  study.brief.vary = {{main_pivot, brief::Cartesian{{-30, 20}, {30, 90}}, false},
                      {stay, brief::Cartesian{{-400, -380}, {10, 30}, main_pivot}, false},
                      {tail, brief::Mirrored{stay, rocker}, false},
                      {eye, brief::Mirrored{stay, rocker, tail}, false},
                      {axle, brief::OnBody{stay, tail, 0.1, 0.2}, false}};
  brief::Polar as_long;
  as_long.from = eye;
  as_long.as_long_as = {rocker, tail};
  study.brief.vary.push_back({mount, as_long, false});
  const std::vector<std::string> ties = report::ties(study.brief, sheet);
  REQUIRE(ties.size() == sheet.layout.mechanism.points.size());
  CHECK(ties[main_pivot].empty());
  CHECK(ties[rocker].empty());
  CHECK(ties[stay] == "goes with main");
  CHECK(ties[tail] == "mirrors stay about rocker");
  CHECK(ties[eye] == "mirrors stay across rocker – tail");
  CHECK(ties[axle] == "one body with stay and tail");
  CHECK(ties[mount] == "as far from eye as rocker from tail");
}

TEST_CASE("of several linkages a layout's ties are those of its own") {
  search::StudyReport study = test::invented_study();
  brief::Brief tied = study.brief, free = study.brief;
  tied.linkage_title = "Tied";
  tied.vary = {{tail, brief::Mirrored{stay, rocker}, false}};
  free.linkage_title = "Free";
  free.vary = {{tail, brief::Cartesian{{-200, -100}, {200, 300}}, false}};
  study.brief.linkages = {free, tied};
  search::Sheet sheet = study.shortlist.front();
  sheet.linkage = "Tied";
  CHECK(report::ties(study.brief, sheet)[tail] == "mirrors stay about rocker");
  sheet.linkage = "Free";
  CHECK(report::ties(study.brief, sheet)[tail].empty());
}
