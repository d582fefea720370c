// Demands that hold by default: their measures by hand, and the round parts of a single pivot by elementary geometry.
#include "objectives/sound.hpp"

#include <catch2/catch.hpp>

#include "objectives/gathering.hpp"
#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using test::Judged;
using test::within;

namespace {

const test::SinglePivot pivot;

/// What a measure of the leverage makes of values at even places of a stretch of `travel` mm.
double measured(Measure measure, const std::vector<double>& y, double travel) {
  Target target;
  target.measure = measure;
  target.curve = {bike::Curve::leverage};
  target.over = Stretch{};
  const Gathering g = make_gathering(target, y.size());
  std::vector<double> seen = y;
  if (g.extent) seen.insert(seen.end(), {0.0, travel});
  return reduced<double>(g, 0, [&](std::size_t i) -> const double& { return seen[i]; });
}

Packaging with_clearances(std::optional<double> tyre, std::optional<double> shock) {
  Packaging p;
  p.tyre_clearance = tyre;
  p.shock_clearance = shock;
  return p;
}

/// Where the axle is when the arm has turned, in frame axes.
linkage::Point axle_at(double c) {
  const double angle = pivot.level() + pivot.turn(c);
  return {pivot.pivot.x + pivot.reach() * std::cos(angle), pivot.pivot.y + pivot.reach() * std::sin(angle)};
}

}  // namespace

TEST_CASE("the sum of rises counts every step up and no step down") {
  CHECK(measured(Measure::total_rise, {3.0, 2.8, 2.6, 2.4}, 100.0) == 0.0);
  CHECK(measured(Measure::total_rise, {3.0, 3.1, 2.9, 3.2, 3.0}, 100.0) == within(0.1 + 0.3, 1e-12));
  // The greatest single climb would be 0.3 here: two bumps count twice.
  CHECK(measured(Measure::total_rise, {2.0, 2.3, 2.0, 2.3, 2.0}, 100.0) == within(0.6, 1e-12));
}

TEST_CASE("the slope at the ends is compared to the mean slope between, or to 0.005 per mm") {
  // Six steps of 10 mm: 0.1 a step between, 0.5 at the end.
  CHECK(measured(Measure::end_slope, {3.0, 2.9, 2.8, 2.7, 2.6, 2.5, 2.0}, 60.0) == within(5.0, 1e-12));
  CHECK(measured(Measure::end_slope, {3.5, 2.9, 2.8, 2.7, 2.6, 2.5, 2.4}, 60.0) == within(6.0, 1e-12));
  // Flat in between: 0.3 on 10 mm is 0.03 per mm, six times 0.005.
  CHECK(measured(Measure::end_slope, {2.5, 2.5, 2.5, 2.5, 2.5, 2.5, 2.2}, 60.0) == within(6.0, 1e-12));
  // A straight line has the same slope everywhere.
  CHECK(measured(Measure::end_slope, {3.0, 2.8, 2.6, 2.4, 2.2, 2.0}, 50.0) == within(1.0, 1e-12));
}

TEST_CASE("the tyre keeps clear of the frame's pivots and of the shock, by its circle and theirs") {
  const bike::Layout layout = pivot.layout();
  // Of the frame's pivots and the shock's middle part, the nearest to the axle over the march's stations.
  double nearest = 1e300;
  for (int i = 0; i <= 23; ++i) {
    const double c = pivot.stroke * i / 23;
    const linkage::Point axle = axle_at(c);
    for (const linkage::Point& p : {pivot.pivot, pivot.mount})
      nearest = std::min(nearest, norm(axle - p) - layout.rear_radius - 11.0);
    // The eye turns with the arm; the shock's body is the line from 15 to 85 % between mount and eye, tried finely.
    const double angle = std::atan2(pivot.eye.y - pivot.pivot.y, pivot.eye.x - pivot.pivot.x) + pivot.turn(c);
    const linkage::Point eye{pivot.pivot.x + pivot.arm() * std::cos(angle),
                             pivot.pivot.y + pivot.arm() * std::sin(angle)};
    for (int k = 0; k <= 7000; ++k) {
      const double share = 0.15 + 0.7 * k / 7000.0;
      nearest = std::min(nearest, norm(axle - (pivot.mount + (eye - pivot.mount) * share)) - layout.rear_radius - 22.5);
    }
  }
  for (const double least : {nearest - 0.01, nearest + 0.01}) {
    const Judged judged(layout, {}, with_clearances(least, {}));
    const RuleVerdict& rule = judged.rule("tyre clearance");
    CHECK(rule.achieved == within(nearest, 1e-3));
    CHECK(rule.demanded == least);
    CHECK(rule.met == (nearest >= least));
    CHECK(rule.origin == Origin::sound);
    CHECK(rule.margin == within((nearest - least) / 4.0, 1e-3));
    CHECK((judged.rules_figure() > 0.0) == (nearest < least));
  }
  CHECK_THROWS_AS(Judged(layout, {}).rule("tyre clearance"), std::invalid_argument);
}

TEST_CASE("the shock keeps clear of the frame's pivots but its own") {
  const bike::Layout layout = pivot.layout();
  const Judged judged(layout, {}, with_clearances({}, 2.0));
  const RuleVerdict& rule = judged.rule("shock clearance");
  CHECK(rule.where == "shock – main");
  // Topped out the foot from the pivot to the shock's line lies within its body: distance by the cross product.
  const linkage::Point line = pivot.eye - pivot.mount, off = pivot.pivot - pivot.mount;
  const double topped_out = std::abs(cross(line, off)) / norm(line) - 22.5 - 11.0;
  CHECK(rule.achieved <= topped_out + 1e-9);
  CHECK(rule.achieved > topped_out - 60.0);
  CHECK(rule.unit == "mm");
}

TEST_CASE("demands that hold by default are requirements on what a layout has") {
  std::vector<Target> targets;
  Packaging packaging;
  add_sound(pivot.layout(), sound_limits(), targets, packaging);
  CHECK(own_targets(targets) == 0);
  CHECK(std::all_of(targets.begin(), targets.end(), [](const Target& t) { return t.must; }));
  CHECK(packaging.least_transmission_angle == 15.0);
  CHECK(packaging.least_pivot_distance == 24.0);
  // A bike is neither better nor worse for being far inside: the margin is 1 a little way in.
  CHECK(allowed_at(targets.front(), 0.0).depth == targets.front().tolerance);

  std::vector<Target> none;
  Packaging untouched;
  add_sound(pivot.layout(), SoundLimits{}, none, untouched);
  CHECK(none.empty());
  CHECK(untouched.least_transmission_angle == Packaging().least_transmission_angle);
  CHECK_FALSE(untouched.least_pivot_distance);
  CHECK_FALSE(untouched.tyre_clearance);
}
