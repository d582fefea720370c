// What a wish reads like that another layout tells, or that compares settings and sizes.
#include "report/wording.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "fixture.hpp"
#include "report/conflict_words.hpp"

using namespace trammel;
using objectives::Relative;
using objectives::Wish;

namespace {

objectives::Target told(std::pair<double, double> times, std::pair<double, double> plus, Wish wish,
                        const std::string& of = "shed/current.yaml") {
  objectives::Target target;
  target.curve = {bike::Curve::leverage};
  target.tolerance = 0.05;
  target.wish = std::move(wish);
  Relative relative;
  relative.of = of;
  relative.times = times;
  relative.plus = plus;
  relative.found = {{0.0, 2.5}};
  target.relative = relative;
  return target;
}

}  // namespace

TEST_CASE("a wish says where its number came from") {
  using Kind = Wish::Kind;
  const std::vector<std::pair<double, double>> path{{0.0, 2.6}, {1.0, 2.1}};
  const auto reads = [](const objectives::Target& target, const std::string& words) {
    CHECK(report::wish(target) == words);
  };
  reads(told({1, 1}, {0.2, 0.2}, {Kind::value, 2.7, 2.7, {}}),
        "2.700 ± 0.05 (0.2 more than shed/current.yaml's 2.500)");
  reads(told({1, 1}, {-0.2, -0.2}, {Kind::ceiling, 2.3, 2.3, {}}, ""),
        "at most 2.300 (0.2 less than the drawn layout's 2.500)");
  reads(told({0.8, 0.8}, {0, 0}, {Kind::floor, 2.0, 2.0, {}}), "at least 2.000 (0.8 times shed/current.yaml's 2.500)");
  reads(told({1, 1}, {0.1, 0.3}, {Kind::band, 2.6, 2.8, {}}),
        "2.600 to 2.800 (0.1 to 0.3 more than shed/current.yaml's 2.500)");
  reads(told({1, 1}, {-0.1, 0.3}, {Kind::band, 2.4, 2.8, {}}),
        "2.400 to 2.800 (0.1 less to 0.3 more than shed/current.yaml's 2.500)");
  reads(told({1, 1}, {0, 0}, {Kind::value, 2.5, 2.5, {}}), "2.500 ± 0.05 (shed/current.yaml's 2.500)");
  reads(told({0.9, 0.9}, {0.1, 0.1}, {Kind::follow, 0, 0, path}),
        "0.1 more than 0.9 times the curve of shed/current.yaml ± 0.05");
  reads(told({1, 1}, {0, 0}, {Kind::under, 0, 0, path}, ""), "at most the curve of the layout as drawn");
  reads(told({1, 1}, {0, 0}, {Kind::over, 0, 0, path}), "at least the curve of shed/current.yaml");
  objectives::Target in = told({1, 1}, {0, 0}, {Kind::value, 2.5, 2.5, {}}, "");
  in.relative->in = "low-M";
  reads(in, "2.500 ± 0.05 (the drawn layout's 2.500 in low-M)");
}

TEST_CASE("what compares settings or sizes, or is about a rider, says so") {
  const bike::Layout layout = test::invented_layout();
  objectives::Target target;
  target.curve = {bike::Curve::head_angle};
  target.between = objectives::Between{objectives::Between::Of::settings, "low", "high"};
  CHECK(report::subject(target, layout) == "Head angle, high − low");
  target.between = objectives::Between{objectives::Between::Of::sizes, "", ""};
  CHECK(report::subject(target, layout) == "Head angle, spread over sizes");
  target.between.reset();
  target.curve = {bike::Curve::set_up_pressure};
  target.curve.rider = 95.0;
  CHECK(report::subject(target, layout) == "Pressure to rest there, rider of 95 kg");
  target.curve = {bike::Curve::spring_support};
  target.curve.rider = 62.5;
  target.measure = objectives::Measure::sag_travel;
  CHECK(report::subject(target, layout) == "Sag position, rider of 62.5 kg");
  target.curve.curve = bike::Curve::set_up_bottom_force;
  target.curve.spacers = 2;
  target.measure = objectives::Measure::bottom_out_margin;
  CHECK(report::subject(target, layout) == "Bottom-out margin, rider of 62.5 kg, 2 spacers");
  target.measure = objectives::Measure::set_up_spacers;
  CHECK(report::subject(target, layout) == "Spacers that set-up takes, rider of 62.5 kg");
}

TEST_CASE("what of a demand that a layout tells gives way is said in the words in which it was made") {
  using Kind = Wish::Kind;
  const auto says = [](const objectives::Target& target, double value, int way, double amount,
                       const std::string& words) {
    search::WayOut out;
    search::Give give;
    give.demand.name = "climbing";
    give.limit.value = value;
    give.limit.way = way;
    give.limit.told = target;
    give.amount = amount;
    out.gives.push_back(give);
    CHECK(report::gives_words(out) == "'climbing' " + words);
  };
  says(told({1, 1}, {0.2, 0.2}, {Kind::floor, 2.7, 2.7, {}}), 0.2, -1, 0.15,
       "at least 0.05 more than shed/current.yaml's 2.500, instead of 0.2 more than shed/current.yaml's 2.500");
  says(told({0.8, 0.8}, {0, 0}, {Kind::ceiling, 2.0, 2.0, {}}, ""), 0.0, 1, 0.1,
       "at most 0.1 more than 0.8 times the drawn layout's 2.500, instead of 0.8 times the drawn layout's 2.500");
  says(told({0.8, 0.9}, {0, 0}, {Kind::band, 2.0, 2.25, {}}), 0.0, -1, 0.1,
       "at least 0.1 less than 0.8 times shed/current.yaml's 2.500, instead of 0.8 times shed/current.yaml's 2.500");
}

TEST_CASE("how far a target is out is told in its usual digits, and in more where those would read as nothing") {
  objectives::Target target = told({1, 1}, {0, 0}, {Wish::Kind::ceiling, 2.3, 2.3, {}});
  objectives::Verdict verdict;
  verdict.achieved = 2.7;
  const auto out_by = [&](double violation) {
    verdict.violation = violation;
    return report::outcome(target, verdict);
  };
  CHECK(out_by(0.4) == "2.700 (out by 0.400)");
  CHECK(out_by(0.00055) == "2.700 (out by 0.001)");  // rounds to the last digit
  CHECK(out_by(0.00045) == "2.700 (out by 0.00045)");
  verdict.met = true;
  CHECK(out_by(0.0) == "2.700");
}

TEST_CASE("layouts that a closer look found are counted, and one is one") {
  search::StudyReport study = test::invented_study();
  search::Conflict conflict;
  conflict.units = 8;
  conflict.found.resize(1);
  study.conflict = conflict;
  const auto words = [&] { return report::conflict_sentences(study).front().words; };
  CHECK(words().find("1 layout that meets every requirement") != std::string::npos);
  study.conflict->found.resize(2);
  CHECK(words().find("2 layouts that meet every requirement") != std::string::npos);
}

TEST_CASE("what a layout misses is told for a brief without linkages, and by its own linkage's limits") {
  search::StudyReport study = test::invented_study();
  const auto misses = [](const search::Sheet& sheet) { return !sheet.assessment.feasible(); };
  search::Sheet sheet = *std::find_if(study.shortlist.begin(), study.shortlist.end(), misses);
  const auto demanded = [&] {
    const std::vector<report::MissWords> words = report::missed_in_words(study, sheet);
    REQUIRE_FALSE(words.empty());
    return words.front().demand;
  };
  const std::string missed = demanded();
  std::vector<std::string> names;
  for (const objectives::Target& target : study.brief.targets) names.push_back(target.name);
  CHECK(std::find(names.begin(), names.end(), missed) != names.end());

  brief::Brief one = study.brief, other = study.brief;
  one.linkage_title = "One";
  other.linkage_title = "Other";
  for (objectives::Target& target : other.targets) target.name += " of the other";
  study.brief.linkages = {one, other};
  sheet.linkage = "One";
  CHECK(demanded() == missed);
  sheet.linkage = "Other";
  CHECK(demanded() == missed + " of the other");
}
