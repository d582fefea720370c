// The gradient that refinement follows, against differences of the plain figure.
//
// The differences are central ones, extrapolated to step 0 by Neville's scheme, which also says how well it converged:
// Ridders, "Accurate computation of F'(x) and F'(x)F''(x)", Adv. Eng. Softw. 4 (1982) 75–76 (from memory).
#include <catch2/catch.hpp>
#include <limits>
#include <random>

#include "search/score.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Scorer;
using search::Setup;

namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();

struct Slope {
  double value = 0.0;
  double error = 1e300;  ///< its own estimate
};

template <class F>
Slope extrapolated(F f, double x, double h) {
  constexpr int rows = 8;
  constexpr double shrink = 2.0;
  double table[rows][rows];
  Slope best;
  for (int i = 0; i < rows; ++i, h /= shrink) {
    table[0][i] = (f(x + h) - f(x - h)) / (2.0 * h);
    double factor = 1.0;
    for (int j = 1; j <= i; ++j) {
      factor *= shrink * shrink;
      table[j][i] = (factor * table[j - 1][i] - table[j - 1][i - 1]) / (factor - 1.0);
      const double error =
          std::max(std::abs(table[j][i] - table[j - 1][i]), std::abs(table[j][i] - table[j - 1][i - 1]));
      if (error < best.error) best = {table[j][i], error};
    }
  }
  return best;
}

struct Tally {
  int entries = 0;
  int sharp = 0;  ///< entries whose difference is itself good to 1e-6 of the gradient
  int assembled = 0;
  int failed = 0;
};

/// Checks all entries at `points` random places of the inner box.
Tally check(const Setup& setup, int points, const objectives::Emphasis& emphasis, std::uint64_t seed) {
  const auto n = static_cast<std::size_t>(setup.design.size());
  Scorer scorer(setup, 0);
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> inside(0.02, 0.98);
  Tally tally;
  for (int point = 0; point < points; ++point) {
    std::vector<double> x(n), gradient(n);
    for (double& v : x) v = inside(random);
    // Outside the layouts that assemble, the figure only has to lead back in.
    if (!scorer.screen(x, emphasis, no_limit).assembles) {
      ++tally.failed;
      const double figure = scorer.figure(x, emphasis, gradient);
      CHECK(std::isfinite(figure));
      for (double g : gradient) CHECK(std::isfinite(g));
      continue;
    }
    ++tally.assembled;
    const double figure = scorer.figure(x, emphasis, gradient);
    CHECK(figure == scorer.figure(x, emphasis, {}));
    double size = 1e-3;
    for (double g : gradient) size = std::max(size, std::abs(g));
    for (std::size_t i = 0; i < n; ++i) {
      const auto along = [&](double at) {
        std::vector<double> moved = x;
        moved[i] = at;
        return scorer.figure(moved, emphasis, {});
      };
      const Slope slope = extrapolated(along, x[i], 2e-4);
      INFO("point " << point << ", " << setup.design.variables()[i].name << ": gradient " << gradient[i]
                    << ", differences " << slope.value << " ± " << slope.error << ", largest entry " << size);
      CHECK(std::abs(gradient[i] - slope.value) <= 1e-7 * size + 10.0 * slope.error);
      ++tally.entries;
      if (slope.error < 1e-6 * size) ++tally.sharp;
    }
  }
  return tally;
}

}  // namespace

TEST_CASE("gradient of the trail bike's brief, 11 variables") {
  const brief::Brief brief = test::trail_brief();
  const Setup setup(brief);
  REQUIRE(setup.design.size() == 11);
  Tally all;
  for (const objectives::Emphasis& emphasis :
       {objectives::Emphasis{4.0, 0.0}, objectives::Emphasis{20.0, 0.35}, objectives::Emphasis{2000.0, 0.02}}) {
    const Tally tally = check(setup, 150, emphasis, 11);
    all.entries += tally.entries;
    all.sharp += tally.sharp;
    all.assembled += tally.assembled;
    all.failed += tally.failed;
  }
  INFO(all.assembled << " layouts that assemble, " << all.failed << " that do not, " << all.sharp << " of "
                     << all.entries << " entries known to 1e-6");
  CHECK(all.assembled > 60);
  CHECK(all.failed > 0);
  CHECK(all.sharp > 0.95 * all.entries);
}

TEST_CASE("gradient of 20 variables") {
  const brief::Brief brief = test::wide_brief();
  const Setup setup(brief);
  REQUIRE(setup.design.size() == 20);
  const Tally tally = check(setup, 40, {20.0, 0.1}, 20);
  INFO(tally.assembled << " layouts that assemble, " << tally.sharp << " of " << tally.entries << " entries sharp");
  CHECK(tally.assembled > 20);
  CHECK(tally.sharp > 0.95 * tally.entries);
}

TEST_CASE("gradient of an extended brief: every entry also on a shock to choose and a point by polar") {
  brief::Brief brief = test::trail_brief();
  brief.shocks = {{210.0, 52.5}, {230.0, 57.5}};
  const Setup setup(brief);
  const Tally tally = check(setup, 60, {20.0, 0.0}, 3);
  CHECK(tally.assembled > 5);
}

TEST_CASE("gradient over settings: a moved pivot, and a moved eye on which the linkage settles") {
  brief::Brief trail = test::trail_brief(), wide = test::wide_brief();
  for (brief::Brief* brief : {&trail, &wide}) {
    const auto& names = brief->layout.mechanism.point_names;
    const auto point = [&](const char* name) {
      return static_cast<int>(std::find(names.begin(), names.end(), name) - names.begin());
    };
    brief->layout.settings = {{"low", {{point("main"), {1.0, -3.0}}}, {}, {}},
                              {"high", {{point("eye"), {2.0, 1.5}}}, {}, {}}};
    brief->targets.back().in = "high";
    const Setup setup(*brief);
    REQUIRE(setup.cases.size() == 2);
    const Tally tally = check(setup, 40, {20.0, 0.1}, 23);
    INFO(tally.assembled << " layouts that assemble, " << tally.sharp << " of " << tally.entries << " entries sharp");
    CHECK(tally.assembled > 4);
    CHECK(tally.sharp > 0.9 * tally.entries);
  }
}

TEST_CASE("gradient of the curves of springs, chain room and seat, for every kind of spring") {
  // At places of the shock's stroke: a place of wheel travel is found by one Newton step, whose own error (nanometres)
  // shows in differences of curves as steep as these at the end of the stroke.
  using Kind = objectives::Station::Kind;
  const auto wished = [](bike::Curve curve, int gear, Kind place) {
    objectives::Target target;
    target.name = std::string(bike::record(curve).key) + std::to_string(static_cast<int>(place));
    target.curve = {curve, gear};
    target.at = {place, 0.0};
    // Never as wished, so that every slope counts.
    target.wish = {objectives::Wish::Kind::value, -1000.0, -1000.0, {}};
    target.tolerance = 100.0;
    return target;
  };
  brief::Brief brief = test::trail_brief();
  brief.layout.seat_angle = 76.0;
  brief.layout.sag = {0.55, bike::SagOf::shock};
  brief.targets.clear();
  for (const Kind place : {Kind::topped_out, Kind::sag, Kind::bottomed}) {
    for (const bike::Curve curve : {bike::Curve::total_chain_growth, bike::Curve::chain_clearance})
      brief.targets.push_back(wished(curve, 0, place));
    for (const bike::Curve curve : {bike::Curve::seat_angle, bike::Curve::wheel_force, bike::Curve::wheel_rate,
                                    bike::Curve::energy, bike::Curve::energy_to_bottom})
      brief.targets.push_back(wished(curve, -1, place));
  }
  const spring::Table table({{0, 60}, {6, 420}, {20, 1200}, {41, 2500}, {58, 5200}});
  for (const spring::Spring& spring : {*brief.layout.shock->spring, spring::Spring(table)}) {
    brief.layout.shock->spring = spring;
    const Setup setup(brief);
    const Tally tally = check(setup, 40, {20.0, 0.0}, 17);
    INFO(tally.assembled << " layouts that assemble, " << tally.sharp << " of " << tally.entries << " entries sharp");
    CHECK(tally.assembled > 4);
    CHECK(tally.sharp > 0.9 * tally.entries);
  }
}

TEST_CASE("an idler too near to the chainring does not assemble, and exact slopes lead it away") {
  brief::Brief brief = test::trail_brief();
  linkage::Mechanism& mechanism = brief.layout.mechanism;
  const int idler = static_cast<int>(mechanism.points.size());
  mechanism.point_names.emplace_back("guide");
  mechanism.points.push_back({-100.0, 20.0});
  mechanism.members[static_cast<std::size_t>(mechanism.frame)].points.push_back(idler);
  brief.layout.drivetrain.idler = bike::Idler{16, idler, false};
  brief.layout.drivetrain.clear_of.clear();
  brief.vary.push_back({idler, brief::Cartesian{{-110.0, -60.0}, {10.0, 30.0}}});
  // Only the run of the chain is to feel the idler.
  std::erase_if(brief.targets, [](const objectives::Target& t) { return t.curve.gear >= 0 || !t.gears.empty(); });
  const Setup setup(brief);
  const auto& variables = setup.design.variables();
  const auto along_x = static_cast<std::size_t>(
      std::find_if(variables.begin(), variables.end(), [](const auto& v) { return v.name == "guide.x"; }) -
      variables.begin());
  REQUIRE(along_x < variables.size());
  Scorer scorer(setup, 0);
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> inside(0.02, 0.98);
  const objectives::Emphasis emphasis{4.0, 0.0};
  int compared = 0;
  for (int tries = 0; tries < 300 && compared < 12; ++tries) {
    std::vector<double> x(variables.size()), gradient(variables.size());
    for (double& v : x) v = inside(random);
    x[along_x] = 0.0;  // 110 mm from the bottom bracket, where the radii take 97
    const objectives::Screened free = scorer.screen(x, emphasis, no_limit);
    if (!free.assembles) continue;
    double last = free.figure;
    for (const double nearer : {0.4, 0.55, 0.7}) {  // 90 to 75 mm along x
      x[along_x] = nearer;
      const objectives::Screened screened = scorer.screen(x, emphasis, no_limit);
      CHECK_FALSE(screened.assembles);
      CHECK(screened.joint == static_cast<int>(setup.models.front().joints()) - 1);
      const double figure = scorer.figure(x, emphasis, gradient);
      CHECK(figure > last);
      last = figure;
      for (const std::size_t i : {std::size_t{0}, along_x}) {
        const Slope slope = extrapolated(
            [&](double at) {
              std::vector<double> moved = x;
              moved[i] = at;
              return scorer.figure(moved, emphasis, {});
            },
            x[i], 2e-4);
        INFO(variables[i].name << ": gradient " << gradient[i] << ", differences " << slope.value);
        CHECK(std::abs(gradient[i] - slope.value) <= 1e-6 * std::abs(gradient[along_x]) + 10.0 * slope.error);
      }
      CHECK(gradient[along_x] > 0.0);
    }
    ++compared;
  }
  CHECK(compared == 12);
}

TEST_CASE("screening agrees with the figure of refinement, and puts what does not assemble above all else") {
  const brief::Brief brief = test::trail_brief();
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  const objectives::Emphasis emphasis{4.0, 0.0};
  double worst_sound = 0.0, best_broken = no_limit;
  for (int i = 0; i < 400; ++i) {
    std::vector<double> x(11);
    for (double& v : x) v = unit(random);
    const objectives::Screened screened = scorer.screen(x, emphasis, no_limit);
    if (!screened.assembles) {
      best_broken = std::min(best_broken, screened.figure);
      continue;
    }
    CHECK(screened.stage == objectives::Stage::through);
    const double figure = scorer.figure(x, emphasis, {});
    CHECK(screened.figure == test::relative(figure, 1e-13));  // the same terms, summed in another order
    worst_sound = std::max(worst_sound, figure);

    // With a limit: kept if and only if the whole figure is within it, and then complete.
    for (double share : {0.1, 0.5, 0.999999, 1.000001, 3.0}) {
      const objectives::Screened stopped = scorer.screen(x, emphasis, share * figure);
      if (share > 1.0) {
        CHECK(stopped.stage == objectives::Stage::through);
        CHECK(stopped.figure == screened.figure);
      } else {
        CHECK(stopped.figure > share * figure);
        CHECK(stopped.figure <= figure * (1.0 + 1e-13));
      }
    }
  }
  REQUIRE(worst_sound > 0.0);
  REQUIRE(best_broken < no_limit);
  CHECK(best_broken > worst_sound);
}
