// Settings and sizes side by side.
#include "report/case_tables.hpp"

#include <catch2/catch.hpp>

#include "fixture.hpp"
#include "report/pages.hpp"

using namespace trammel;

namespace {

search::CaseSheet one_case(const search::Sheet& sheet, const std::string& name, double achieved, bool met) {
  search::CaseSheet one;
  one.name = name;
  one.layout = sheet.layout;
  one.travel = sheet.bottomed.travel;
  objectives::Verdict verdict;
  verdict.achieved = achieved;
  verdict.met = met;
  verdict.violation = met ? 0.0 : 3.0;
  one.judged = {name, {1}, {}};
  one.judged.assessment.targets = {verdict};
  return one;
}

bool has(const std::string& page, const std::string& words) {
  return page.find(words) != page.npos;
}

}  // namespace

TEST_CASE("a layout's page shows targets by case with their spread") {
  search::StudyReport study = test::invented_study();
  study.brief.targets[1].tolerance = 1.0;
  study.brief.targets[1].name = "the second";
  search::Sheet& sheet = study.shortlist[0];
  CHECK_FALSE(has(test::page_of(study, 0), "Settings and sizes"));
  sheet.cases = {one_case(sheet, "low-M", 101.5, true), one_case(sheet, "high-M", 97.25, false),
                 one_case(sheet, "high-L", 99.0, true)};
  sheet.cases[2].judged.numbers.clear();
  sheet.cases[2].judged.assessment.targets.clear();
  const std::string page = test::page_of(study, 0);
  CHECK(has(page, "Settings and sizes"));
  for (const char* name : {"low-M", "high-M", "high-L", "Spread", "curves-low-M.csv"}) CHECK(has(page, name));
  CHECK(report::curves_file(sheet.cases[1]) == "curves-high-M.csv");
  const std::string table = report::case_tables(sheet, study.brief.targets).str();
  const auto row = table.substr(table.find("the second"));
  CHECK(row.find("✓ 101.5") < row.find("✗ 97."));
  CHECK(row.find("✗ 97.") < row.find(">–<"));
  CHECK(row.find("97.2") < row.find("to 101.5"));
}
