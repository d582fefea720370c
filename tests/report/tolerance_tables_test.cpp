// Tables and files of tolerances, from a sheet filled by hand.
#include "report/tolerance_tables.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "report/csv.hpp"
#include "report/curve_plots.hpp"
#include "report/pages.hpp"
#include "tests/report/fixture.hpp"

using namespace trammel;

namespace {

search::StudyReport study_with_tolerances() {
  search::StudyReport study = test::invented_study();
  study.brief.tolerances = brief::Tolerances{};
  study.brief.tolerances->law = brief::Tolerances::Law::normal;
  for (search::Sheet& sheet : study.shortlist) {
    search::ToleranceSheet t;
    t.yield = {1944, 2000, 0.964, 0.979};
    t.unassembled = 2;
    t.coordinates = {{"eye.x", 0.2, 0.0667}, {"shock length", 0.5, 0.167}};
    for (std::size_t i = 0; i < study.brief.targets.size(); ++i) {
      t.targets.push_back({100.25, 100.5, 1.5, 1.25, 98.0, 103.0, {1990, 2000, 0.99, 0.997}, {3.5, -0.5}});
      t.effects.push_back({i, 0, 3.5, 0.35});
      t.effects.push_back({i, 1, -0.5, 0.125});
    }
    t.rules = {{"least transmission angle", {2000, 2000, 0.998, 1.0}}, {"box of eye.x", {1500, 2000, 0.73, 0.77}}};
    t.fractions = {0.0, 0.5, 1.0};
    t.bands = {{{bike::Curve::leverage}, {2.8, 2.5, 2.2}, {2.9, 2.6, 2.3}}};
    sheet.tolerance = t;
  }
  return study;
}

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("yield, spread and the greatest effects are told on the pages") {
  const search::StudyReport study = study_with_tolerances();
  const std::string page = test::page_of(study, 0);
  CHECK(holds(page, "97.2 % (96.4 to 97.9 %) keep every requirement; 2 do not assemble."));
  CHECK(holds(page, "box of eye.x"));
  CHECK_FALSE(holds(page, "least transmission angle</th><td class=\"n\">100.0"));
  CHECK(holds(page, "5 to 95 % of built frames"));
  CHECK(holds(page, "± 0.2 mm"));
  CHECK(holds(page, "3 standard deviations"));
  CHECK(holds(report::index_page(study), "97.2 % (96.4 to 97.9 %)"));
  // Without tolerances nothing of it stands there.
  const std::string bare = test::page_of(test::invented_study(), 0);
  CHECK_FALSE(holds(bare, "built frames"));
  CHECK_FALSE(holds(report::index_page(test::invented_study()), "Yield"));
}

TEST_CASE("a yield under the one asked for carries a flag wherever it stands; without requirements none is spoken of") {
  search::StudyReport study = study_with_tolerances();
  CHECK_FALSE(holds(report::index_page(study) + test::page_of(study, 0), "✗ under"));
  study.brief.search.yield = 0.95;
  CHECK_FALSE(holds(report::index_page(study) + test::page_of(study, 0), "✗ under"));
  study.shortlist.front().tolerance->yield = {1200, 2000, 0.578, 0.621};
  const std::string index = report::index_page(study), page = test::page_of(study, 0);
  CHECK(holds(index, "60.0 % (57.8 to 62.1 %) ✗ under 95 %"));
  CHECK(holds(index, "✗ where they are fewer than the brief asks for"));
  CHECK(holds(page, "60.0 % (57.8 to 62.1 %) ✗ under 95 %"));
  CHECK(holds(page, "The brief asks for a yield of 95 %, which this layout does not reach"));
  CHECK_FALSE(holds(test::page_of(study, 1), "✗ under"));

  for (objectives::Target& target : study.brief.targets) target.must = false;
  const std::string without = test::page_of(study, 0);
  CHECK_FALSE(holds(without, "every requirement"));
  CHECK(holds(without, "keep every rule of packaging and feasibility; no target is required; 2 do not assemble."));
}

TEST_CASE("a spring that reaches its sag but bottoms out under the landing load says both") {
  search::StudyReport study = test::invented_study();
  search::Sheet& sheet = study.shortlist.front();
  bike::SetUpRow row;
  row.rider = 78.0;
  row.fits = true;
  row.bottom_margin = -60.0;
  row.load.wheel = 1234.4;
  row.load.shock = 3599.6;
  sheet.set_up = {row};
  sheet.layout.loads.landing = 5000.0;
  const std::string page = test::page_of(study, 0);
  CHECK(holds(page, "<th scope=\"col\">Wanted sag</th>"));
  CHECK(holds(page, "<td class=\"n\">1234</td><td class=\"n\">3600</td>"));  // whole newtons: a scale reads no more
  CHECK(holds(page, "-60 % ✗ bottoms out"));
  CHECK(holds(page, "Under the landing load the suspension bottoms out for: 78.0 kg."));
  sheet.set_up.front().bottom_margin = 12.0;
  CHECK_FALSE(holds(test::page_of(study, 0), "✗ bottoms out"));
  CHECK_FALSE(holds(test::page_of(study, 0), "bottoms out for"));
}

TEST_CASE("files of tolerances have a record for everything that was counted") {
  const search::StudyReport study = study_with_tolerances();
  const search::Sheet& sheet = study.shortlist.front();
  const auto lines = [](const std::string& text) { return std::count(text.begin(), text.end(), '\n'); };
  const auto targets = static_cast<std::ptrdiff_t>(study.brief.targets.size());
  const std::string spread = report::tolerances_csv(sheet, study.brief.targets);
  CHECK(lines(spread) == 1 + targets + 2 + 1);
  CHECK(holds(spread, "every requirement,,,,,,,,2000,1944,0.964,0.979\r\n"));
  CHECK(holds(spread, ",%,100.25,100.5,1.5,1.25,98,103,2000,1990,0.99,0.997\r\n"));
  const std::string effects = report::sensitivity_csv(sheet, study.brief.targets);
  CHECK(lines(effects) == 1 + 2 * targets);
  CHECK(holds(effects, "shock length,climbing,%,-0.5,0.5,0.125\r\n"));
  const std::string bands = report::bands_csv(sheet);
  CHECK(lines(bands) == 4);
  CHECK(holds(bands, "travel_mm,leverage 5 %,leverage 95 %\r\n0,2.8,2.9\r\n"));
  CHECK(holds(report::shortlist_csv(study), ",yield,yield_from,yield_to,must_margin,wish_margin,remarks,summary\r\n"));
}
