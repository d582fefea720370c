// Bodies in a search: the gradient of their distances, and a search that has to find its way out of them.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "bike/table.hpp"
#include "search/gradient_check.hpp"
#include "search/score.hpp"
#include "search/unit.hpp"
#include "tests/search/briefs.hpp"

using namespace trammel;
using namespace trammel::search;

namespace {

/// The trail bike with more under `packaging`.
brief::Brief with_room(const std::string& more) {
  std::string text = test::trail_brief().text;
  const std::string before = "packaging:\n";
  text.insert(text.find(before) + before.size(), more);
  // What holds by default is not what is looked at here.
  return test::brief_of(brief::read_text(text + "\nsound: any\n", "room.yaml"));
}

const std::string every_kind = R"(
  bodies:
    tyre: { part: rear_tyre }
    seat_tube: { from: [-15, 60], to: [-150, 420], diameter: 35 }
    motor: { corners: [[-90, -60], [80, -70], [90, 40], [0, 20], [-70, 60]] }
    leg: { centre: [-40, 250], diameter: 110 }
    link: { from: rocker, to: tail, diameter: 22, from_boss: 34, to_boss: 30 }
    bridge: { centre: [-290, 190], diameter: 30, member: seatstay }
    yoke: { from: [-300, 40], to: main, diameter: 26, member: chainstay }
    damper: { part: shock, body_from: mount, body_length: 120, diameter: 50, shaft: 12 }
    chain: { part: chain, gear: 32x24, diameter: 8 }
  clearances:
    - { of: tyre, to: [seat_tube, motor, leg], least: 9 }
    - { of: damper, to: [seat_tube, leg, link], least: 5 }
    - { of: link, to: [leg, seat_tube, bridge], least: 4 }
    - { of: yoke, to: [motor, chain], least: 3 }
    - { of: bridge, to: [damper], least: 60 }
  keep_in:
    - { point: eye, corners: [[-60, 320], [10, 320], [30, 420], [-60, 400]], least: 2 }
    - { point: tail, x: [-150, -100] }
  lengths:
    - { between: [rocker, tail], least: 85 }
    - { between: [main, stay], greatest: 370 }
)";

}  // namespace

TEST_CASE("gradient with bodies of every kind, regions and lengths, against differences") {
  const brief::Brief brief = with_room(every_kind);
  const Setup setup(brief);
  const GradientCheck check = check_gradient(setup, 60);
  INFO("worst " << check.worst.variable << ": exact " << check.worst.exact << ", differences " << check.worst.difference
                << ", largest " << check.worst.largest);
  REQUIRE(check.layouts == 60);
  // A link, the shock's shaft or a chain whose middle line is crossed is closest in a corner of its distance along the
  // stroke; a search knows that to a hundredth of a millimetre and its slope to a hundredth.
  CHECK(check.worst.off() < 1e-2);

  // Without those the distance is smooth where it is least.
  brief::Brief smooth = brief;
  for (objectives::Clearance& clearance : smooth.packaging.clearances) {
    const auto drop = [&](const char* of, const char* to) {
      const auto& bodies = smooth.packaging.bodies;
      if (bodies[static_cast<std::size_t>(clearance.of)].name != of) return;
      std::erase_if(clearance.to, [&](int body) { return bodies[static_cast<std::size_t>(body)].name == to; });
    };
    drop("damper", "leg");
    drop("link", "seat_tube");
    drop("yoke", "chain");
  }
  const Setup smooth_setup(smooth);
  const GradientCheck sharp = check_gradient(smooth_setup, 60);
  INFO("worst " << sharp.worst.variable << ": exact " << sharp.worst.exact << ", differences " << sharp.worst.difference
                << ", largest " << sharp.worst.largest);
  CHECK(sharp.layouts == 60);
  CHECK(sharp.worst.off() < 1e-5);
}

TEST_CASE("a figure of refinement is no lower than that of screening, and the same without bodies") {
  const brief::Brief brief = with_room(every_kind);
  const Setup setup(brief);
  Scorer scorer(setup, 0);
  const objectives::Emphasis emphasis{4.0, 0.0};
  int through = 0;
  for (std::uint64_t i = 0; i < 300; ++i) {
    std::vector<double> x(static_cast<std::size_t>(setup.design.size()));
    setup.sobol.point(i, x);
    const objectives::Screened screened = scorer.screen(x, emphasis, std::numeric_limits<double>::infinity());
    if (!screened.assembles) continue;
    ++through;
    const double figure = scorer.figure(x, emphasis, {});
    CHECK(figure >= screened.figure * (1.0 - 1e-12));
    CHECK(figure <= screened.figure * 1.2 + 1.0);
  }
  CHECK(through > 50);
}

TEST_CASE("a search clears a tube, the tyre and a region, and the verdict agrees with the drawing's own distance") {
  // Without these rules the best layouts put the rocker where the tube is.
  const std::string tube = R"(
  bodies:
    tyre: { part: rear_tyre }
    seat_tube: { from: [30, 60], to: [-80, 420], diameter: 36 }
    link: { from: rocker, to: tail, diameter: 20 }
    brace: { centre: [-60, 345], diameter: 24 }
  clearances:
    - { of: tyre, to: [seat_tube], least: 8 }
    - { of: link, to: [brace], least: 6 }
  keep_in:
    - { point: eye, corners: [[-60, 300], [40, 300], [40, 420], [-60, 420]] }
  lengths:
    - { between: [rocker, tail], least: 60, greatest: 110 }
)";
  brief::Brief brief = with_room(tube);
  brief.search.samples = 1024;
  brief.search.refine = 4;
  brief.search.evaluations = 200;
  const Setup setup(brief);
  brief::Brief free = brief;
  free.packaging.clearances.clear();
  free.packaging.tyre_clearance.reset();
  const Setup open(free);
  int cleared = 0, blocked = 0;
  for (int unit = 0; unit < 4; ++unit) {
    const auto row = run_unit(setup, unit, nullptr);
    const auto other = run_unit(open, unit, nullptr);
    REQUIRE(row);
    REQUIRE(other);
    for (const store::LayoutRow& layout : row->layouts) {
      if (layout.musts_met != layout.musts) continue;
      ++cleared;
      const bike::Layout found = setup.design.layout(layout.design, 0);
      const auto shown = assess_layout(found, brief.targets, brief.packaging);
      CHECK(shown.feasible());
      for (const objectives::RuleVerdict& rule : shown.rules)
        if (rule.name == "clearance") CHECK(rule.achieved >= rule.demanded);
      // By hand at 400 places of the stroke, the axle being the tyre's centre.
      const bike::Motion motion = bike::trace(found, 401, false);
      double nearest = 1e9;
      for (const bike::Pose& pose : motion.poses) {
        const bike::Point axle = pose.points[static_cast<std::size_t>(found.axle.point)];
        const bike::Point a{30, 60}, b{-80, 420}, along = b - a;
        const double part = std::clamp(dot(axle - a, along) / squared_norm(along), 0.0, 1.0);
        nearest = std::min(nearest, norm(axle - a - along * part) - found.rear_radius - 18.0);
      }
      CHECK(nearest >= 8.0 - 1e-6);
      for (const objectives::RuleVerdict& rule : shown.rules)
        if (rule.name == "clearance" && rule.where == "tyre – seat_tube") {
          CHECK(rule.achieved <= nearest + 1e-9);
          CHECK(rule.achieved > nearest - 0.01);
        }
    }
    for (const store::LayoutRow& layout : other->layouts) {
      const auto shown = assess_layout(open.design.layout(layout.design, 0), brief.targets, brief.packaging);
      if (layout.musts_met == layout.musts && !shown.feasible()) ++blocked;
    }
  }
  CHECK(cleared > 0);
  CHECK(blocked > 0);  // the rules did something
}

TEST_CASE("on a grid: every varied coordinate lies on it, and what is judged is the layout on it") {
  brief::Brief brief = with_room(R"(
  bodies:
    tyre: { part: rear_tyre }
    seat_tube: { from: [30, 60], to: [-80, 420], diameter: 36 }
  clearances:
    - { of: tyre, to: [seat_tube], least: 8 }
)");
  brief.search.samples = 1024;
  brief.search.refine = 3;
  brief.search.grid = 0.5;
  const Setup setup(brief);
  int layouts = 0, met = 0;
  for (int unit = 0; unit < 2; ++unit) {
    const auto row = run_unit(setup, unit, nullptr);
    REQUIRE(row);
    for (const store::LayoutRow& layout : row->layouts) {
      ++layouts;
      const bike::Layout found = setup.design.layout(layout.design, 0);
      // The eye, too, whose distance and angle from the rocker both vary.
      for (const char* name : {"main", "stay", "tail", "rocker", "eye"}) {
        const auto& names = found.mechanism.point_names;
        const auto at = static_cast<std::size_t>(std::find(names.begin(), names.end(), name) - names.begin());
        for (const double x : {found.mechanism.points[at].x, found.mechanism.points[at].y})
          CHECK(std::abs(x / 0.5 - std::round(x / 0.5)) < 1e-9);
      }
      const auto shown = assess_layout(found, brief.targets, brief.packaging);
      CHECK(shown.musts_met == layout.musts_met);
      met += shown.feasible() ? 1 : 0;
    }
  }
  CHECK(layouts > 0);
  CHECK(met > 0);
}
