// What a sheet's figures show of points, pivots and gaps.
#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <regex>
#include <set>

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

/// The numbers of an attribute such as points="1,2 3,4".
std::vector<double> numbers_in(const std::string& text) {
  static const std::regex number("-?[0-9]+(\\.[0-9]+)?");
  std::vector<double> out;
  for (std::sregex_iterator at(text.begin(), text.end(), number), end; at != end; ++at)
    out.push_back(std::stod(at->str()));
  return out;
}

/// The heights on the canvas that lines, curves and words of a drawing come to, from its upper edge.
std::vector<double> heights_in(const std::string& drawing) {
  std::vector<double> out;
  static const std::regex height(" (?:y|y1|y2|cy)=\"([^\"]*)\""), path(" points=\"([^\"]*)\"");
  for (std::sregex_iterator at(drawing.begin(), drawing.end(), height), end; at != end; ++at)
    out.push_back(std::stod((*at)[1]));
  for (std::sregex_iterator at(drawing.begin(), drawing.end(), path), end; at != end; ++at) {
    const std::vector<double> spots = numbers_in((*at)[1]);
    for (std::size_t i = 1; i < spots.size(); i += 2) out.push_back(spots[i]);
  }
  return out;
}

double canvas_height(const std::string& drawing) {
  const std::string opening = "viewBox=\"";
  const std::size_t at = drawing.find(opening);
  REQUIRE(at != drawing.npos);
  return numbers_in(drawing.substr(at + opening.size(), 60)).at(3);
}

/// The first figure that has these words in it.
std::string figure_with(const std::string& page, const std::string& words) {
  const std::size_t at = page.find(words);
  REQUIRE(at != page.npos);
  return page.substr(page.rfind("<figure", at), page.find("</figure>", at) - page.rfind("<figure", at));
}

/// The heights of each curve of a figure: of its lines of many points.
std::vector<std::vector<double>> curve_heights(const std::string& figure) {
  static const std::regex line("<polyline points=\"([^\"]*)\"");
  std::vector<std::vector<double>> out;
  for (std::sregex_iterator at(figure.begin(), figure.end(), line), end; at != end; ++at) {
    const std::vector<double> spots = numbers_in((*at)[1]);
    std::vector<double> heights;
    for (std::size_t i = 1; i < spots.size(); i += 2) heights.push_back(spots[i]);
    out.push_back(heights);
  }
  return out;
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

TEST_CASE("every curve has one plot, whether a target asks for it or not") {
  Target spread = below({bike::Curve::shock_angle}, 90.0, "turning");
  spread.measure = objectives::Measure::greatest;
  const std::vector<Target> targets{below({bike::Curve::leverage}, 4.0, "leverage"),
                                    below({bike::Curve::motion_ratio}, 1.0, "ratio"), spread};
  const search::Sheet sheet = search::make_sheet(test::invented_layout(), targets, {});
  std::vector<bike::Curve> shown;
  for (const bike::CurveKey& key : report::shown_curves(sheet, targets))
    if (key.gear <= 0) shown.push_back(key.curve);  // others have one a gear
  CHECK(std::set(shown.begin(), shown.end()).size() == shown.size());
  CHECK(std::count(shown.begin(), shown.end(), bike::Curve::leverage) == 1);
  CHECK(std::count(shown.begin(), shown.end(), bike::Curve::motion_ratio) == 1);
  CHECK(std::count(shown.begin(), shown.end(), bike::Curve::shock_angle) == 0);  // a measure alone draws no curve
}

TEST_CASE("where other bikes run is seen in a plot, however far it is from the layout's own curve") {
  const search::Sheet sheet = search::make_sheet(test::invented_layout(), {}, {});
  search::References references;
  references.fractions = {0.0, 0.5, 1.0};
  references.bands = {{{bike::Curve::leverage}, {1.0, 1.0, 1.0}, {6.0, 6.5, 7.0}}};
  const std::string figure = figure_with(report::curve_figures(sheet, {}, references).str(), "Leverage ratio</h3>");
  int bands = 0;
  for (const std::vector<double>& heights : curve_heights(figure)) {
    bands += heights.size() == 3 ? 1 : 0;
    for (const double y : heights) {
      CHECK(y > 0.0);
      CHECK(y < canvas_height(figure));
    }
  }
  CHECK(bands == 2);
}

TEST_CASE("a curve that hardly changes is drawn as one that hardly changes, also beside another") {
  search::Sheet sheet = test::invented_sheet(test::invented_layout(), 101);
  for (bike::Column& column : sheet.motion.table.columns)
    if (column.key == bike::CurveKey{bike::Curve::leverage})
      for (std::size_t i = 0; i < column.values.size(); ++i) column.values[i] = 3.0 + 2e-5 * static_cast<double>(i);
  for (const std::string& page :
       {report::overlaid_figures({sheet, sheet}).str(), report::curve_figures(sheet, {}, {}).str()}) {
    const std::string figure = figure_with(page, "Leverage ratio</h3>");
    int curves = 0;
    for (const std::vector<double>& heights : curve_heights(figure)) {
      if (heights.size() < 50) continue;
      ++curves;
      const auto [least, most] = std::minmax_element(heights.begin(), heights.end());
      CHECK(*most - *least < 0.1 * canvas_height(figure));
    }
    CHECK(curves > 0);
  }
}

TEST_CASE("nothing of a drawing lies below its canvas, nor above it") {
  const search::Sheet sheet = search::make_sheet(test::invented_layout(), {}, {});
  const bike::Gear* gear = &sheet.layout.drivetrain.gears.front();
  for (const std::string& drawing : {report::bike_figure(sheet, gear).str(), report::drawing_svg(sheet, gear)}) {
    const double height = canvas_height(drawing);
    const std::vector<double> heights = heights_in(drawing);
    REQUIRE(heights.size() > 50);
    CHECK(*std::min_element(heights.begin(), heights.end()) >= 0.0);
    CHECK(*std::max_element(heights.begin(), heights.end()) <= height);
  }
}

TEST_CASE("a link is drawn with a rim wider than what fills it") {
  const search::Sheet sheet = search::make_sheet(test::invented_layout(), {}, {});
  const std::string drawing = report::bike_figure(sheet, nullptr).str();
  static const std::regex band(
      "points=\"([^\"]*)\"[^>]*stroke=\"([^\"]*)\" stroke-width=\"([^\"]*)\" stroke-linecap=\"round\"");
  std::map<std::string, double> rims;
  int links = 0;
  for (std::sregex_iterator at(drawing.begin(), drawing.end(), band), end; at != end; ++at) {
    const std::string path = (*at)[1], colour = (*at)[2];
    const double width = std::stod((*at)[3]);
    if (colour != "#b9c6d2") {
      rims[path] = width;
      continue;
    }
    ++links;
    REQUIRE(rims.contains(path));
    CHECK(rims[path] > width);
  }
  CHECK(links == 3);
}
