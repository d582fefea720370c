// What a sheet's figures show of points, pivots and gaps.
#include <catch2/catch.hpp>

#include "report/curve_plots.hpp"
#include "report/drawing.hpp"
#include "search/make_sheet.hpp"
#include "tests/report/fixture.hpp"

using namespace trammel;
using objectives::Target;
using objectives::Wish;

namespace {

int count(const std::string& text, const std::string& what) {
  int found = 0;
  for (std::size_t at = 0; (at = text.find(what, at)) != text.npos; at += what.size()) ++found;
  return found;
}

Target below(const bike::CurveKey& key, double ceiling, const std::string& name) {
  Target t;
  t.name = name;
  t.curve = key;
  t.over = objectives::Stretch{};
  t.wish = {Wish::Kind::ceiling, ceiling, ceiling, {}};
  t.tolerance = 1.0;
  return t;
}

objectives::Packaging two_tubes() {
  objectives::Packaging packaging;
  bike::Body tyre;
  tyre.name = "tyre";
  tyre.kind = bike::BodyKind::tyre;
  packaging.bodies = {tyre};
  for (const double x : {-20.0, -60.0}) {
    bike::Body tube;
    tube.name = x > -30.0 ? "near" : "far";
    tube.kind = bike::BodyKind::tube;
    tube.spots = {{-1, 0, {x, 150.0}}, {-1, 0, {x - 100.0, 600.0}}};
    tube.diameter = 30.0;
    packaging.bodies.push_back(tube);
  }
  return packaging;
}

}  // namespace

TEST_CASE("a point's and a pivot's curve that targets ask for each have a plot, with what is asked for") {
  const bike::Layout layout = test::invented_layout();
  const int eye = 5, rocker = 3;
  Target measured = below({bike::Curve::pivot_force, -1, rocker, -1, 1}, 5000.0, "stopping");
  measured.measure = objectives::Measure::greatest;
  const std::vector<Target> targets{below({bike::Curve::point_x, -1, eye}, 40.0, "eye forward"),
                                    below({bike::Curve::pivot_force, -1, rocker, -1, 0}, 9000.0, "landing gently"),
                                    below({bike::Curve::point_distance, -1, rocker, eye}, 70.0, "short arm"), measured};
  const search::Sheet sheet = search::make_sheet(layout, targets, {});
  const std::string page = report::curve_figures(sheet, targets, {}).str();
  CHECK(count(page, "eye x</h3>") == 1);
  CHECK(count(page, "Force in rocker, landing</h3>") == 1);
  CHECK(count(page, "Force in rocker, stop</h3>") == 1);  // no other plot shows what the measure is of
  CHECK(count(page, "Distance rocker–eye</h3>") == 1);
  CHECK(count(page, "Asked for: eye forward") == 1);
  CHECK(count(page, "Asked for: landing gently") == 1);
  CHECK(count(page, "stopping") == 0);
  CHECK(report::curve_figures(search::make_sheet(layout, {}, {}), {}, {}).str().find("Force in") == std::string::npos);
}

TEST_CASE("the tightest gap is dimensioned in the drawing, or every one that is too small") {
  const bike::Layout layout = test::invented_layout();
  objectives::Packaging packaging = two_tubes();
  const auto drawing = [&](double least_near, double least_far) {
    packaging.clearances = {{0, {1}, least_near}, {0, {2}, least_far}};
    const search::Sheet sheet = search::make_sheet(layout, {}, packaging);
    return std::pair(sheet.close_places, report::bike_figure(sheet, nullptr).str());
  };
  const auto [none, plain] = [&] {
    const search::Sheet sheet = search::make_sheet(layout, {}, two_tubes());
    return std::pair(sheet.close_places, report::bike_figure(sheet, nullptr).str());
  }();
  CHECK(none.empty());
  CHECK(plain.find("Closest") == std::string::npos);

  const auto [easy, shown_easy] = drawing(-1000.0, -1000.0);
  REQUIRE(easy.size() == 1);
  CHECK(easy[0].met);
  CHECK(easy[0].pair == "tyre – far");
  CHECK(count(shown_easy, "tyre – far") == 1);
  CHECK(count(shown_easy, "too little") == 0);

  const auto [hard, shown_hard] = drawing(1000.0, 1000.0);
  REQUIRE(hard.size() == 2);
  CHECK(hard[0].gap <= hard[1].gap);
  CHECK(count(shown_hard, "too little") == 2);
  CHECK(count(shown_hard, "tyre – near") == 1);
}
