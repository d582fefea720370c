// How much a must moves when a pivot is off, against differences of the judged values themselves.
#include <catch2/catch.hpp>

#include "objectives/assessor.hpp"
#include "objectives/evaluator.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using test::within;

TEST_CASE("sensitivity is the greatest slope of a must, in its tolerances for half a millimetre") {
  const bike::Layout layout = test::SinglePivot().layout();
  const bike::Model model = bike::make_model(layout);
  std::vector<Target> targets(3);
  targets[0].name = "travel";
  targets[0].curve = {bike::Curve::travel};
  targets[0].at = {Station::Kind::bottomed, 0.0};
  targets[0].wish = {Wish::Kind::floor, 10.0, 10.0, {}};
  targets[0].tolerance = 0.5;
  targets[0].must = true;
  targets[1] = targets[0];
  targets[1].name = "climbing";
  targets[1].curve = {bike::Curve::anti_squat, 0};
  targets[1].at = {Station::Kind::sag, 0.0};
  targets[1].tolerance = 4.0;
  // A wish counts for nothing here, however much it moves.
  targets[2] = targets[0];
  targets[2].name = "wish";
  targets[2].tolerance = 1e-6;
  targets[2].must = false;
  Packaging packaging;
  packaging.sensitivity = 3.0;
  const Demands demands(model, targets, packaging);
  const auto evaluator = make_evaluator(demands, usable_instruction_sets().back());
  const auto value = [&](const std::vector<linkage::Point>& points, std::size_t t) {
    return evaluator->evaluate(points).values[t][0];
  };
  double greatest = 0.0;
  for (std::size_t t = 0; t < 2; ++t)
    for (std::size_t c = 0; c < 2 * layout.mechanism.points.size(); ++c) {
      const auto moved = [&](double by) {
        std::vector<linkage::Point> points = layout.mechanism.points;
        (c % 2 == 0 ? points[c / 2].x : points[c / 2].y) += by;
        return value(points, t);
      };
      const double h = 0.01;
      const double slope = (8.0 * (moved(h) - moved(-h)) - (moved(2.0 * h) - moved(-2.0 * h))) / (12.0 * h);
      greatest = std::max(greatest, std::abs(slope) / targets[t].tolerance);
    }
  const Outcome<double>& outcome = evaluator->judge(layout.mechanism.points, RoomDetail::decisive);
  REQUIRE(outcome.sensitivity);
  CHECK(outcome.sensitivity->tolerances_per_mm == within(greatest, 1e-6 * greatest));
  const Assessment assessment = assess(demands, outcome);
  const RuleVerdict& rule = assessment.rules.back();
  CHECK(rule.achieved == within(0.5 * greatest, 1e-6 * greatest));
  CHECK(rule.met == (0.5 * greatest <= 3.0));
  CHECK(rule.margin == within(std::min(1.0, 3.0 - 0.5 * greatest), 1e-5));

  // The limit just under what it is: missed.
  Packaging strict = packaging;
  strict.sensitivity = 0.5 * greatest - 0.001;
  const Demands harder(demands, strict);
  const auto again = make_evaluator(harder, usable_instruction_sets().back());
  CHECK_FALSE(assess(harder, again->judge(layout.mechanism.points, RoomDetail::decisive)).feasible());
}
