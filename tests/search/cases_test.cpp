// Searching a layout in several settings and sizes.
#include <catch2/catch.hpp>
#include <limits>
#include <random>

#include "search/make_sheet.hpp"
#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/study.hpp"
#include "tests/search/briefs.hpp"
#include "tests/store/study_samples.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using objectives::Assessment;
using search::Scorer;
using search::Setup;

namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();
constexpr objectives::Emphasis plain{20.0, 0.0};

int point(const brief::Brief& brief, const std::string& name) {
  const auto& names = brief.layout.mechanism.point_names;
  return static_cast<int>(std::find(names.begin(), names.end(), name) - names.begin());
}

/// A flip chip at the shock's eye and one at the frame's pivot, in two sizes.
brief::Brief cased_brief() {
  brief::Brief brief = test::quick_brief();
  brief.layout.settings = {{"drawn", {}, {}, {}},
                           {"eye", {{point(brief, "eye"), {3.0, -2.0}}}, {}, {}},
                           {"pivot", {{point(brief, "main"), {0.0, -4.0}}}, {}, 365.0}};
  bike::Size small, large;
  small.name = "S";
  large.name = "L";
  large.front = brief.layout.front;
  large.front->axle.x += 45.0;
  large.chainstay = 6.0;
  large.cg = bike::CentreOfGravity{40.0, 1180.0, bike::CgFollows::frame};
  brief.layout.sizes = {small, large};
  brief.targets[1].in = "drawn";
  brief.targets[4].in = "L";
  return brief;
}

/// Random designs that assemble in every case.
std::vector<std::vector<double>> sound_designs(const Setup& setup, std::size_t wanted, std::uint64_t seed) {
  Scorer scorer(setup, 0);
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> inside(0.02, 0.98);
  std::vector<std::vector<double>> out;
  for (int i = 0; i < 4000 && out.size() < wanted; ++i) {
    std::vector<double> x(static_cast<std::size_t>(setup.design.size()));
    for (double& v : x) v = inside(random);
    if (scorer.screen(x, plain, no_limit).assembles) out.push_back(x);
  }
  REQUIRE(out.size() == wanted);
  return out;
}

}  // namespace

TEST_CASE("one setting that changes nothing: the digits of a brief without") {
  const brief::Brief without = test::quick_brief();
  brief::Brief with = without;
  with.layout.settings = {{"same", {}, {}, {}}};
  const Setup a(without), b(with);
  Scorer s(a, 0), t(b, 0);
  for (const std::vector<double>& x : sound_designs(a, 20, 5)) {
    std::vector<double> g(x.size()), h(x.size());
    CHECK(s.figure(x, plain, g) == t.figure(x, plain, h));
    CHECK(g == h);
    CHECK(s.screen(x, plain, no_limit).figure == t.screen(x, plain, no_limit).figure);
  }
}

TEST_CASE("the figure is the sum over layouts drawn as the cases say") {
  const brief::Brief brief = cased_brief();
  const Setup setup(brief);
  REQUIRE(setup.cases.size() == 6);
  Scorer scorer(setup, 0);
  for (const std::vector<double>& x : sound_designs(setup, 10, 6)) {
    const bike::Layout layout = setup.design.layout(x, 0);
    const Assessment whole = scorer.assessment(x);
    double score = 0.0, margin = 1.0;
    std::vector<double> worst(brief.targets.size(), 2.0);
    for (const search::CaseSetup& one : setup.cases) {
      const Assessment here = search::assess_layout(bike::layout_of(layout, one.which), one.targets, brief.packaging);
      score += here.score;
      margin = std::min(margin, here.margin);
      for (std::size_t i = 0; i < one.numbers.size(); ++i)
        worst[one.numbers[i]] = std::min(worst[one.numbers[i]], here.targets[i].margin);
    }
    CHECK(whole.score == test::relative(score, 1e-9));
    CHECK(whole.margin == test::within(margin, 1e-9));
    for (std::size_t t = 0; t < worst.size(); ++t) CHECK(whole.targets[t].margin == test::within(worst[t], 1e-8));
  }
}

TEST_CASE("a target that names a setting or size is judged there only") {
  const brief::Brief brief = cased_brief();
  const Setup setup(brief);
  for (const search::CaseSetup& one : setup.cases) {
    const auto holds = [&](std::size_t t) {
      return std::find(one.numbers.begin(), one.numbers.end(), t) != one.numbers.end();
    };
    CHECK(holds(0));
    CHECK(holds(1) == (one.name == "drawn-S" || one.name == "drawn-L"));
    CHECK(holds(4) == (one.name.substr(one.name.size() - 2) == "-L"));
  }
  Scorer scorer(setup, 0);
  for (const std::vector<double>& x : sound_designs(setup, 10, 7)) {
    const Assessment a = scorer.assessment(x);
    CHECK(a.targets[1].in.rfind("drawn-", 0) == 0);
    CHECK(a.targets[4].in.substr(a.targets[4].in.size() - 2) == "-L");
    int musts = static_cast<int>(a.rules.size());
    for (const objectives::Target& t : brief.targets) musts += t.must ? 1 : 0;
    CHECK(a.musts == musts);
  }
}

TEST_CASE("screening several cases: the figure of refinement, and its limit exactly") {
  const brief::Brief brief = cased_brief();
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  for (const std::vector<double>& x : sound_designs(setup, 40, 8)) {
    const double figure = scorer.figure(x, plain, {});
    const objectives::Screened whole = scorer.screen(x, plain, no_limit);
    CHECK(whole.stage == objectives::Stage::through);
    CHECK(whole.figure == test::relative(figure, 1e-12));
    for (double share : {0.05, 0.5, 0.999999, 1.000001, 3.0}) {
      const objectives::Screened stopped = scorer.screen(x, plain, share * figure);
      CHECK((stopped.stage == objectives::Stage::through) == (share > 1.0));
      if (share > 1.0)
        CHECK(stopped.figure == whole.figure);
      else
        CHECK(stopped.figure > share * figure);
    }
  }
  // A block gives what its layouts give alone.
  const auto block = scorer.screen(0, 300, plain, 5000.0);
  const std::vector<objectives::Screened> together(block.begin(), block.end());
  std::vector<double> x(static_cast<std::size_t>(setup.design.size()));
  for (std::size_t i = 0; i < together.size(); ++i) {
    setup.sobol.point(i, x);
    const objectives::Screened alone = scorer.screen(x, plain, 5000.0);
    CHECK(alone.figure == together[i].figure);
    CHECK(alone.stage == together[i].stage);
  }
}

TEST_CASE("a sheet has each size's values, and the worst over them") {
  brief::Brief brief = cased_brief();
  brief.layout.settings.clear();
  brief.targets[1].in.clear();
  const Setup setup(brief);
  const std::vector<double> x = sound_designs(setup, 1, 9).front();
  const search::Sheet sheet = search::make_sheet(setup.design.layout(x, 0), brief.targets, brief.packaging);
  REQUIRE(sheet.cases.size() == 2);
  CHECK(sheet.cases[0].name == "S");
  CHECK(sheet.cases[1].name == "L");
  CHECK(sheet.drawn->sizes.size() == 2);
  // Anti-squat: the centre of gravity over the wheelbase differs between the sizes.
  const objectives::Verdict &s = sheet.cases[0].judged.assessment.targets[1],
                            &l = sheet.cases[1].judged.assessment.targets[1];
  CHECK(s.achieved != l.achieved);
  CHECK(sheet.assessment.targets[1].achieved == (s.margin <= l.margin ? s.achieved : l.achieved));
  CHECK(sheet.cases[1].geometry.front().wheelbase - sheet.cases[0].geometry.front().wheelbase ==
        test::within(51.0, 0.5));
}

TEST_CASE("a study over settings and sizes: one digest on 1 and 2 threads") {
  const brief::Brief brief = cased_brief();
  const Setup setup(brief);
  std::string digests[2];
  for (int threads : {1, 2}) {
    const test::Folder folder;
    auto file = store::StudyFile::create(folder.study("trammel.study"), test::study_head(brief));
    search::Budget budget;
    budget.units = 3;
    budget.threads = threads;
    CHECK(run_study(setup, budget, file, {}, [](const search::Progress&) {}) == search::RunEnd::complete);
    digests[threads - 1] = file.digest();
  }
  CHECK(digests[0] == digests[1]);
}

TEST_CASE("demands that exclude each other in one setting are no conflict in two") {
  brief::Brief brief = test::quick_brief();
  brief.layout.settings = {{"low", {{point(brief, "main"), {0.0, -4.0}}}, {}, {}}, {"high", {}, {}, {}}};
  objectives::Target other = brief.targets[1];
  other.name = "far lower";
  other.wish.lo -= 50.0;
  other.wish.hi -= 50.0;
  brief.targets.push_back(other);
  CHECK(search::proven_conflicts(brief).size() == 1);
  brief.targets[1].in = "low";
  CHECK(search::proven_conflicts(brief).size() == 1);
  brief.targets.back().in = "high";
  CHECK(search::proven_conflicts(brief).empty());
}
