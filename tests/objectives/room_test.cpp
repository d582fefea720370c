// Room between bodies: on a single pivot in closed form, and the search for the closest place along the stroke.
#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <limits>
#include <random>

#include "objectives/assessor.hpp"
#include "objectives/evaluator.hpp"
#include "objectives/room_search.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using bike::Body;
using bike::BodyKind;
using bike::Spot;
using linkage::Point;
using test::within;

namespace {

const test::SinglePivot pivot;

Spot at(double x, double y, int member = 0) {
  return {-1, member, {x, y}};
}
Body circle(const std::string& name, Spot centre, double diameter) {
  Body body;
  body.name = name;
  body.spots = {centre};
  body.diameter = diameter;
  return body;
}
Body tube(const std::string& name, Spot from, Spot to, double diameter) {
  Body body = circle(name, from, diameter);
  body.kind = BodyKind::tube;
  body.spots.push_back(to);
  return body;
}
Body polygon(const std::string& name, std::vector<Spot> corners) {
  Body body;
  body.name = name;
  body.kind = BodyKind::polygon;
  body.spots = std::move(corners);
  return body;
}
Body tyre() {
  Body body;
  body.name = "tyre";
  body.kind = BodyKind::tyre;
  return body;
}

/// A layout judged by every instruction set here, which must agree to the last bit.
struct Verdicts {
  Verdicts(const bike::Layout& layout, const Packaging& packaging, RoomDetail detail = RoomDetail::exact)
      : model(bike::make_model(layout)), demands(model, none, packaging) {
    std::vector<RuleVerdict> first;
    for (const InstructionSet set : usable_instruction_sets()) {
      const auto evaluator = make_evaluator(demands, set);
      outcome = evaluator->judge(layout.mechanism.points, detail);
      assessment = assess(demands, outcome);
      if (first.empty()) first = assessment.rules;
      for (std::size_t i = 0; i < first.size(); ++i) {
        CHECK(std::bit_cast<std::uint64_t>(first[i].achieved) ==
              std::bit_cast<std::uint64_t>(assessment.rules[i].achieved));
        CHECK(first[i].at_travel == assessment.rules[i].at_travel);
      }
    }
  }
  const RuleVerdict& rule(const std::string& name) const {
    for (const RuleVerdict& r : assessment.rules)
      if (r.name == name) return r;
    throw std::invalid_argument("no rule " + name);
  }

  std::vector<Target> none;
  bike::Model model;
  Demands demands;
  Outcome<double> outcome;
  Assessment assessment;
};

/// Turned about the pivot with the swingarm by compression c.
Point swung(Point p, double c) {
  return pivot.pivot + turn(p - pivot.pivot, Point{std::cos(pivot.turn(c)), std::sin(pivot.turn(c))});
}

/// Least of a closed form over the stroke at 20,001 places, and where.
template <class F>
std::pair<double, double> least(F f) {
  std::pair<double, double> found{1e300, 0.0};
  for (int i = 0; i <= 20000; ++i) {
    const double c = pivot.stroke * i / 20000;
    if (f(c) < found.first) found = {f(c), c};
  }
  return found;
}

bike::Layout layout_with_radius(double radius) {
  bike::Layout layout = pivot.layout();
  layout.rear_radius = radius;
  return layout;
}

}  // namespace

TEST_CASE("tyre and a round tube: circles on the swingarm's arc, also where they come closest between stations") {
  // Ahead of the arc: the first closest bottomed, the second in between, the third topped out.
  const std::vector<Point> centres{{-20, 160}, {-30, 81}, {-30, -40}};
  std::vector<double> travels;
  for (const Point& centre : centres) {
    Packaging packaging;
    packaging.bodies = {tyre(), circle("seat_tube", at(centre.x, centre.y), 34)};
    packaging.clearances = {{0, {1}, 6.0}};
    const Verdicts v(layout_with_radius(360), packaging);
    const auto [distance, c] = least([&](double at) { return norm(swung(pivot.axle, at) - centre) - 360.0 - 17.0; });
    const RuleVerdict& rule = v.rule("clearance");
    INFO("least " << distance << " mm at " << pivot.travel(c) << " mm of travel, given " << rule.achieved << " at "
                  << rule.at_travel);
    CHECK(rule.achieved == within(distance, 1e-6));
    CHECK(rule.at_travel == within(pivot.travel(c), 0.05));  // flat there: the place is known less well than the value
    CHECK(rule.where == "tyre – seat_tube");
    CHECK(rule.unit == "mm");
    CHECK(rule.met == (distance >= 6.0));
    CHECK(v.assessment.feasible() == (distance >= 6.0));
    travels.push_back(rule.at_travel / pivot.whole());
  }
  CHECK(std::count_if(travels.begin(), travels.end(), [](double t) { return t > 0.05 && t < 0.95; }) >= 1);
}

TEST_CASE("a small boss that passes a small body between two stations is seen") {
  // On the swingarm near the axle, where a station is some 6 mm from the next; the other circle on its way.
  const Point boss{-400, 40};
  const double c = pivot.stroke * 10.5 / march_intervals;
  const Point way = swung(boss, c);
  const Point off = way + (way - pivot.pivot) * (6.0 / norm(way - pivot.pivot));
  Packaging packaging;
  packaging.bodies = {circle("boss", at(boss.x, boss.y, 1), 4), circle("bolt", at(off.x, off.y), 4)};
  packaging.clearances = {{0, {1}, 1.9}};
  const bike::Layout layout = pivot.layout();
  const Verdicts v(layout, packaging);
  CHECK(v.rule("clearance").achieved == within(2.0, 1e-6));
  CHECK(v.rule("clearance").at_travel == within(pivot.travel(c), 0.01));
  Assessor<double> stations(v.demands);
  stations.march(layout.mechanism.points);
  CHECK(stations.outcome().fit.room[0].value > 2.3);
  // In a search the closest station's neighbourhood is enough.
  const auto evaluator = make_evaluator(v.demands, InstructionSet::baseline);
  CHECK(evaluator->evaluate(layout.mechanism.points).fit.room[0].value == within(2.0, 1e-6));
}

TEST_CASE("bodies on a member keep their shape and turn with it") {
  Packaging packaging;
  const Point a{-300, 50}, b{-300, 120}, still{-280, 300};
  packaging.bodies = {tube("link", at(a.x, a.y, 1), at(b.x, b.y, 1), 20), circle("post", at(still.x, still.y), 30)};
  packaging.bodies[0].ends = Point{20, 36};
  packaging.clearances = {{0, {1}, 3.0}};
  const auto [distance, c] = least([&](double at) {
    const Point from = swung(a, at), to = swung(b, at);
    // The nearest of the axis, by a fine division of it, and the larger boss.
    double nearest = norm(to - still) - 18.0;
    for (int i = 0; i <= 200; ++i) nearest = std::min(nearest, norm(from + (to - from) * (i / 200.0) - still) - 10.0);
    return nearest - 15.0;
  });
  const Verdicts v(pivot.layout(), packaging);
  CHECK(v.rule("clearance").achieved == within(distance, 1e-6));
}

TEST_CASE("overlap is told by its depth, and grows with it") {
  // A tube of the frame through the path of the axle: the axle's boss is inside a plate.
  double before = 1e9;
  for (double shift : {-60.0, -30.0, 0.0, 20.0}) {
    Packaging packaging;
    const double x = pivot.axle.x - 40.0 + shift;
    packaging.bodies = {circle("boss", {test::point_named(pivot.layout().mechanism, "axle"), -1, {}}, 20),
                        polygon("plate", {at(x, -200), at(x + 40, -200), at(x + 40, 400), at(x, 400)})};
    packaging.clearances = {{1, {0}, 0.0}};
    const Verdicts v(pivot.layout(), packaging);
    const auto [distance, c] = least([&](double at) {
      const double axle = swung(pivot.axle, at).x;
      return std::max(axle - (x + 40.0), x - axle) - 10.0;  // the plate's long sides are nearest
    });
    CHECK(v.rule("clearance").achieved == within(distance, 1e-6));
    if (shift <= 0.0) CHECK(distance < before);
    before = distance;
  }
}

TEST_CASE("shock body and shaft, chain, and a point that must stay inside a polygon") {
  bike::Layout layout = pivot.layout();
  const int eye = test::point_named(layout.mechanism, "eye"), mount = test::point_named(layout.mechanism, "mount");
  Body shock;
  shock.name = "shock";
  shock.kind = BodyKind::shock;
  shock.eye = mount;
  shock.length = 100.0;
  shock.diameter = 50.0;
  shock.shaft = 12.0;
  const Point tap{30, 280};
  Packaging packaging;
  packaging.bodies = {shock, circle("tap", at(tap.x, tap.y), 10)};
  packaging.clearances = {{0, {1}, 5.0}};
  packaging.keep_in = {{eye, {{-75, 150}, {40, 150}, {40, 260}, {-75, 260}}, 1.0}};
  const Verdicts v(layout, packaging);
  const auto [distance, c] = least([&](double at) {
    const Point from = pivot.mount, to = swung(pivot.eye, at);
    const Point along = (to - from) * (1.0 / norm(to - from));
    const auto apart = [&](double length, double radius) {
      const double part = std::clamp(dot(tap - from, along), 0.0, length);
      return norm(tap - from - along * part) - radius - 5.0;
    };
    return std::min(apart(100.0, 25.0), apart(norm(to - from), 6.0));
  });
  CHECK(v.rule("clearance").achieved == within(distance, 1e-6));
  const auto [inside, s] = least([&](double at) {
    const Point p = swung(pivot.eye, at);
    return std::min(std::min(p.x + 75.0, 40.0 - p.x), std::min(p.y - 150.0, 260.0 - p.y));
  });
  CHECK(v.rule("kept in").achieved == within(inside, 1e-6));
  CHECK(v.rule("kept in").where == "eye");
  CHECK(v.rule("kept in").demanded == 1.0);
}

TEST_CASE("lengths: least and greatest, met, on the edge and missed") {
  const bike::Layout layout = pivot.layout();
  const int main = test::point_named(layout.mechanism, "main"), eye = test::point_named(layout.mechanism, "eye");
  for (double off : {-1.0, 0.0, 1.0}) {
    Packaging packaging;
    packaging.lengths = {{main, eye, pivot.arm() + off, {}}, {main, eye, {}, pivot.arm() + off}};
    const Verdicts v(layout, packaging);
    CHECK(v.rule("length: at least").met == (off <= 0.0));
    CHECK(v.rule("length: at most").met == (off >= 0.0));
    CHECK(v.rule("length: at least").achieved == within(pivot.arm(), 1e-12));
    CHECK(v.rule("length: at least").where == "main–eye");
  }
}

TEST_CASE("screening with bodies has one result under every instruction set, that of plain numbers") {
  bike::Layout layout = pivot.layout();
  Body shock;
  shock.name = "shock";
  shock.kind = BodyKind::shock;
  shock.eye = test::point_named(layout.mechanism, "mount");
  shock.length = 90.0;
  shock.diameter = 46.0;
  shock.shaft = 12.0;
  Packaging packaging;
  packaging.bodies = {tyre(), tube("seat_tube", at(-40, 40), at(-110, 420), 35), shock,
                      polygon("motor", {at(-80, -60), at(90, -60), at(90, 60), at(-60, 90)}),
                      tube("yoke", at(-250, 60, 1), at(-120, 120, 1), 30)};
  packaging.clearances = {{0, {1, 2, 3}, 6.0}, {4, {1, 2, 3}, 2.0}};
  const bike::Model model = bike::make_model(layout);
  const std::vector<Target> none;
  const Demands demands(model, none, packaging);
  std::mt19937_64 random(5);
  std::normal_distribution<double> off(0.0, 12.0);
  Block block;
  block.resize(61, layout.mechanism.points.size());
  for (std::size_t i = 0; i < block.layouts(); ++i)
    for (std::size_t p = 0; p < block.points(); ++p) {
      block.at(i, p, 0) = layout.mechanism.points[p].x + off(random);
      block.at(i, p, 1) = layout.mechanism.points[p].y + off(random);
    }
  const Emphasis emphasis{4.0, 0.0};
  const double no_limit = std::numeric_limits<double>::infinity();
  std::vector<Screened> plain(block.layouts()), wide(block.layouts());
  Screening<double>(demands).screen(block, emphasis, no_limit, plain);
  int missed = 0;
  for (const Screened& s : plain) missed += s.assembles && s.figure > 1.0 ? 1 : 0;
  CHECK(missed > 10);
  for (const double limit : {no_limit, 20.0}) {
    Screening<double>(demands).screen(block, emphasis, limit, plain);
    for (const InstructionSet set : usable_instruction_sets()) {
      make_evaluator(demands, set)->screen(block, emphasis, limit, wide);
      for (std::size_t i = 0; i < plain.size(); ++i) {
        CHECK(std::bit_cast<std::uint64_t>(plain[i].figure) == std::bit_cast<std::uint64_t>(wide[i].figure));
        CHECK(plain[i].stage == wide[i].stage);
      }
    }
  }
  CHECK(std::any_of(plain.begin(), plain.end(), [](const Screened& s) { return s.stage == Stage::room; }));
}

TEST_CASE("what a margin needs to know of the room decides as the exact distances do") {
  // A tube ahead of the tyre, from inside it to far away: whatever the margin is, both searches tell the same one, and
  // where it counts (less than its depth of 4 mm over the limit) the same distance.
  int counted = 0, far = 0;
  for (int i = 0; i <= 40; ++i) {
    Packaging packaging;
    packaging.bodies = {tyre(), circle("seat_tube", at(-60.0 + i, 81), 34)};
    packaging.clearances = {{0, {1}, 6.0}};
    const Verdicts exact(layout_with_radius(360), packaging);
    const Verdicts decisive(layout_with_radius(360), packaging, RoomDetail::decisive);
    const RuleVerdict &a = exact.rule("clearance"), &b = decisive.rule("clearance");
    CHECK(a.met == b.met);
    CHECK(a.margin == b.margin);
    CHECK(b.achieved >= a.achieved);
    if (a.margin < 1.0) {
      CHECK(a.achieved == b.achieved);
      ++counted;
    } else {
      ++far;
    }
  }
  CHECK(counted > 5);
  CHECK(far > 5);
}

TEST_CASE("the whole stroke is searched where a distance hardly changes, or it is said how much may hide") {
  // A far body on the swingarm goes about the pivot, where another one stands: their distance stays the same. To know
  // that by its speed alone would take more than twenty thousand places over the 800 mm that it goes; by how little its
  // way bends some hundreds do.
  Packaging packaging;
  packaging.bodies = {circle("far", at(pivot.pivot.x - 1800, pivot.pivot.y, 1), 20),
                      circle("hub", at(pivot.pivot.x, pivot.pivot.y), 30)};
  packaging.clearances = {{0, {1}, 1774.9}};
  const bike::Layout layout = pivot.layout();
  const Verdicts v(layout, packaging);
  CHECK(v.rule("clearance").achieved == within(1800.0 - 25.0, 1e-9));
  CHECK(v.rule("clearance").met);
  CHECK(v.outcome.nearest[0].accuracy == room_accuracy);

  const auto accuracy_with = [&](std::int64_t places) {
    bike::Spread<8> spread(v.model, march_intervals);
    RoomSearch<8> search(v.demands, places);
    search.begin(layout.mechanism.points);
    spread.begin(layout.mechanism.points);
    spread.march([&](std::size_t first, const linkage::State<math::Pack<8>>& state) { search.watch(first, 8, state); });
    Outcome<double> out;
    out.resize(v.demands);
    search.finish(spread, RoomWanted::exact(), out);
    return out.nearest[0].accuracy;
  };
  CHECK(accuracy_with(most_room_places) == room_accuracy);
  CHECK(accuracy_with(1'000) == room_accuracy);
  CHECK(accuracy_with(64) > room_accuracy);
  // Of an interval that was not divided: the chord of its arc is nearer by R (1 − cos θ/2), and its way may leave that
  // by a quarter of the second difference, 2 R (1 − cos θ) on a circle. Turns are greatest where the stroke begins;
  // that they change adds some percent to the second difference.
  const double turn = pivot.turn(pivot.stroke / march_intervals);
  CHECK(accuracy_with(8) == test::relative(1800.0 * (1.0 - std::cos(0.5 * turn) + 0.5 * (1.0 - std::cos(turn))), 0.05));

  // A verdict that rests on an unfinished search says so, and is met only where what may hide is room enough, too.
  Outcome<double> doubtful = v.outcome;
  doubtful.nearest[0].accuracy = 0.05;
  const Assessment enough = assess(v.demands, doubtful);
  doubtful.nearest[0].accuracy = 0.4;
  const Assessment too_little = assess(v.demands, doubtful);
  const auto clearance = [](const Assessment& a) {
    return *std::find_if(a.rules.begin(), a.rules.end(), [](const RuleVerdict& r) { return r.name == "clearance"; });
  };
  CHECK(clearance(enough).met);
  CHECK(clearance(enough).where.find("may be 0.05 mm less elsewhere") != std::string::npos);
  CHECK_FALSE(clearance(too_little).met);
  // Of the margin it takes as much as the verdict's place would if it were so much nearer.
  const double depth = rules::Clearances::record.depth;
  REQUIRE(depth != 1.0);
  CHECK(v.rule("clearance").margin == within(0.1 / depth, 1e-9));
  CHECK(clearance(enough).margin == within((0.1 - 0.05) / depth, 1e-9));
  CHECK(clearance(too_little).margin == within((0.1 - 0.4) / depth, 1e-9));
}
