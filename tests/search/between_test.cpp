// Targets on what settings and sizes differ by.
#include <catch2/catch.hpp>
#include <cmath>

#include "bike/table.hpp"
#include "search/gradient_check.hpp"
#include "search/margins.hpp"
#include "search/score.hpp"
#include "tests/search/briefs.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::Scorer;
using search::Setup;
using test::within;

namespace {

/// The trail bike with a chip and three sizes that ships, with other targets.
brief::Brief chip_brief(const std::string& targets) {
  const brief::Brief shipped = test::brief_of(brief::read_file(test::in_tree("configs/flip-chip-140.yaml")));
  std::string text = shipped.text;
  const auto from = text.find("targets:\n"), to = text.find("packaging:");
  text.replace(from, to - from, "targets:\n" + targets);
  return test::brief_of(brief::read_text(text, "chip.yaml"));
}

std::vector<double> middle(const Setup& setup) {
  return std::vector<double>(static_cast<std::size_t>(setup.design.size()), 0.5);
}

}  // namespace

TEST_CASE("a difference is the second's value less the first's, in each case of the other kind") {
  const brief::Brief brief = chip_brief(
      "  - { curve: chainstay, at: topped_out, between: [S, L], in: high, value: 5, tolerance: 0.1 }\n"
      "  - { curve: chainstay, at: topped_out, between: [L, S], in: high, value: 5, tolerance: 0.1 }\n"
      "  - { curve: chainstay, at: topped_out, between: sizes, in: high, ceiling: 4 }\n"
      "  - { curve: head_angle, at: topped_out, between: [low, high], band: [0.1, 2] }\n");
  const Setup setup(brief);
  REQUIRE(setup.comparisons.size() == 1 + 1 + 1 + 3);
  Scorer scorer(setup, 0);
  const auto a = scorer.assessment(middle(setup));
  // The axle is drawn at (−437, 32); that of L lies 5 mm further back (Pythagoras).
  const double longer = std::hypot(442.0, 32.0) - std::hypot(437.0, 32.0);
  CHECK(a.targets[0].achieved == within(longer, 1e-9));
  CHECK(a.targets[0].in == "L − S, high");
  CHECK(a.targets[0].met);
  CHECK(a.targets[1].achieved == within(-longer, 1e-9));
  CHECK_FALSE(a.targets[1].met);
  CHECK(a.targets[2].achieved == within(longer, 1e-9));
  CHECK(a.targets[2].violation == within(longer - 4.0, 1e-9));
  CHECK(a.targets[2].in == "all sizes, high");

  // The chip's own work, from the layouts of the settings as layouts of their own.
  const bike::Layout whole = setup.design.layout(middle(setup), 0);
  const auto angle = [&](int setting, int size) {
    return bike::trace(bike::layout_of(whole, {setting, size}), 2, true)
        .table.find({bike::Curve::head_angle})
        ->values[0];
  };
  double least = 1e9;
  for (int size = 0; size < 3; ++size) least = std::min(least, *angle(0, size) - *angle(1, size));
  CHECK(std::abs(least) > 0.01);
  CHECK(a.targets[3].achieved == within(least, 1e-9));
  CHECK(a.targets[3].in.starts_with("high − low, "));
}

TEST_CASE("the figure holds the differences' own share, and screening and refinement agree on it") {
  const std::string without = "  - { curve: leverage, at: sag, floor: 2.4 }\n";
  const brief::Brief plain = chip_brief(without);
  const brief::Brief brief = chip_brief(
      without + "  - { curve: bb_height, at: sag, between: [low, high], value: 60, tolerance: 5, weight: 3 }\n");
  const Setup with_it(brief), alone(plain);
  Scorer scorer(with_it, 0), other(alone, 0);
  const objectives::Emphasis emphasis{20.0, 0.0};
  const auto x = middle(with_it);
  double expected = other.figure(x, emphasis, {});
  const bike::Layout whole = with_it.design.with_choice(0);
  std::vector<bike::Point> points;
  with_it.design.place<double>(x, 0, points);
  bike::Layout placed = whole;
  placed.mechanism.points = points;
  const auto height = [&](int setting, int size) {
    const bike::Layout one = bike::layout_of(placed, {setting, size});
    const objectives::Target look{.name = "",
                                  .curve = {bike::Curve::bb_height},
                                  .measure = {},
                                  .at = {},
                                  .over = {},
                                  .wish = {objectives::Wish::Kind::floor, 0.0, 0.0, {}}};
    return search::assess_layout(one, {look}, {}).targets[0].achieved;
  };
  for (int size = 0; size < 3; ++size) {
    // Σ weight · r²/(1 + r²/40²), r in tolerances beyond ± one tolerance, a mean over the sizes.
    const double r = std::max(0.0, std::abs(height(0, size) - height(1, size) - 60.0) / 5.0 - 1.0);
    CHECK(r > 1.0);
    expected += 3.0 / 3.0 * r * r / (1.0 + r * r / 1600.0);
  }
  CHECK(scorer.figure(x, emphasis, {}) == test::relative(expected, 1e-9));
  const auto screened = scorer.screen(x, emphasis, 1e9);
  REQUIRE(screened.stage == objectives::Stage::through);
  CHECK(screened.figure == test::relative(expected, 1e-9));
  CHECK(scorer.screen(x, emphasis, expected - 0.5).stage == objectives::Stage::curves);
}

TEST_CASE("the gradient goes through differences, also where a case settles") {
  const brief::Brief brief = chip_brief(
      "  - { curve: bb_height, at: sag, between: [low, high], value: 60, tolerance: 5 }\n"
      "  - { curve: leverage, at: sag, between: settings, ceiling: 0, tolerance: 0.003, must: true }\n"
      "  - { curve: anti_squat, gear: 32x50, at: sag, between: sizes, ceiling: 0 }\n"
      "  - { measure: progressivity, between: [S, L], value: 1 }\n");
  const Setup setup(brief);
  const search::GradientCheck check = search::check_gradient(setup, 6);
  CHECK(check.layouts == 6);
  INFO(check.worst.variable << " exact " << check.worst.exact << " difference " << check.worst.difference);
  CHECK(check.worst.off() < 1e-5);
}

TEST_CASE("differences are margins of the finish: least ones as in the verdicts, slopes as by central differences") {
  const brief::Brief brief = chip_brief(
      "  - { curve: bb_height, at: sag, between: [low, high], band: [4, 9], must: true }\n"
      "  - { curve: leverage, at: sag, between: sizes, ceiling: 0.002, tolerance: 0.003, must: true }\n"
      "  - { curve: anti_squat, gear: 32x50, at: sag, between: sizes, floor: 1 }\n"
      "  - { measure: progressivity, between: [S, L], value: 0.01 }\n");
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  search::Margins margins(scorer);
  std::vector<double> x = middle(setup);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] += 0.03 * static_cast<double>(i % 3);
  const std::vector<search::Margin> all = margins.at(x);
  const objectives::Assessment judged = scorer.assessment(x);
  double musts = 1.0, wishes = 1.0;
  for (std::size_t t = 0; t < 4; ++t) {
    double& least = brief.targets[t].must ? musts : wishes;
    least = std::min(least, judged.targets[t].margin);
  }
  double own_musts = 1.0, own_wishes = 1.0;
  for (const search::Margin& m : all)
    if (m.target) (m.must ? own_musts : own_wishes) = std::min(m.must ? own_musts : own_wishes, m.value);
  // Judged on the grid of a thousandth of a millimetre.
  CHECK(own_musts == within(musts, 0.002));
  CHECK(own_wishes == within(wishes, 0.002));

  const std::size_t n = x.size(), count = all.size();
  // [low, high] in three sizes: both limits. Sizes in two settings: each two of three, in both orders; and one floor.
  const std::size_t differences = 3 * 2 + 2 * 6 + 2 * 1 + 2 * 2;
  REQUIRE(count > differences);
  std::vector<std::size_t> numbers;
  for (std::size_t k = count - differences; k < count; ++k) numbers.push_back(k);
  std::vector<double> values(numbers.size()), slopes(numbers.size() * n), score_slopes(n);
  double score = -1.0;
  margins.evaluate(x, {numbers, values, slopes, &score, score_slopes});
  const auto score_at = [&](const std::vector<double>& at) {
    double out = 0.0;
    margins.evaluate(at, {{}, {}, {}, &out, {}});
    return out;
  };
  CHECK(score == score_at(x));
  CHECK(score > 0.0);
  constexpr double h = 1e-5;
  for (std::size_t i = 0; i < n; ++i) {
    std::vector<double> more = x, less = x;
    more[i] += h;
    less[i] -= h;
    const std::vector<search::Margin> up = margins.at(more), down = margins.at(less);
    for (std::size_t k = 0; k < numbers.size(); ++k) {
      INFO("margin " << numbers[k] << ", variable " << i);
      CHECK(values[k] == all[numbers[k]].value);
      // The error of a central difference, h² times a third derivative, and rounding over h.
      const double slope = (up[numbers[k]].value - down[numbers[k]].value) / (2.0 * h);
      CHECK(slopes[k * n + i] == Approx(slope).epsilon(1e-4).margin(1e-4));
    }
    CHECK(score_slopes[i] == Approx((score_at(more) - score_at(less)) / (2.0 * h)).epsilon(1e-4).margin(1e-4));
  }
}
