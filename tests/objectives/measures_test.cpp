// Targets on measures as a layout is judged by them: a single pivot with curves in closed form, gears against targets
// on each of them alone, the sag position against set-up's own search for the place of rest.
#include <catch2/catch.hpp>

#include "bike/set_up.hpp"
#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using bike::Curve;
using test::Judged;
using test::within;
using Place = Station::Kind;
using Kind = Wish::Kind;

namespace {

const test::SinglePivot pivot;

Target measured(Measure measure, Curve curve, int gear = -1) {
  Target t;
  t.measure = measure;
  t.curve = {curve, gear};
  t.wish = {Kind::band, -1e6, 1e6, {}};
  const Where where = record(measure).where;
  if (where == Where::stretch || where == Where::whole) t.over = Stretch{};
  if (where == Where::between) t.at = {Place::topped_out, 0.0};
  return t;
}
double value_of(const Target& t, const bike::Layout& layout = pivot.layout()) {
  return Judged(layout, {t}).verdict().achieved;
}

}  // namespace

TEST_CASE("measures of a single pivot by hand") {
  const double whole = pivot.whole(), stroke = pivot.stroke;
  // ∫(dc/dz) dz = c, so the mean of the motion ratio is stroke / travel; Simpson's rule over 20 intervals of this
  // smooth curve is good to 1e-8.
  CHECK(value_of(measured(Measure::mean, Curve::motion_ratio)) == within(stroke / whole, 1e-8));
  CHECK(value_of(measured(Measure::slope, Curve::travel)) == within(1.0, 1e-12));
  CHECK(value_of(measured(Measure::curvature, Curve::travel)) == within(0.0, 1e-12));
  CHECK(value_of(measured(Measure::straightness, Curve::travel)) == within(0.0, 1e-9));
  CHECK(value_of(measured(Measure::range, Curve::travel)) == within(whole, 1e-9));
  CHECK(value_of(measured(Measure::difference, Curve::rearward)) == within(pivot.rearward(stroke), 1e-9));
  CHECK(value_of(measured(Measure::ratio, Curve::leverage)) ==
        within(pivot.leverage(stroke) / pivot.leverage(0.0), 1e-9));

  Target greatest = measured(Measure::greatest, Curve::rearward);
  double by_hand = -1e9, where = 0.0;
  for (int i = 0; i <= 20; ++i) {
    const double z = whole * i / 20, rearward = pivot.rearward(pivot.compression(z));
    if (rearward > by_hand) {
      by_hand = rearward;
      where = z;
    }
  }
  const Judged judged(pivot.layout(), {greatest});
  CHECK(judged.verdict().achieved == within(by_hand, 1e-9));
  CHECK(judged.verdict().at_travel == within(where, 1e-9));

  // A circle about the pivot, through points every half millimetre: the path is followed but for the chords.
  Target path = measured(Measure::path_deviation, Curve::axle_x);
  for (double y = pivot.axle.y - 1.0; y < pivot.axle.y + whole + 1.0; y += 0.5)
    path.path.emplace_back(pivot.pivot.x - std::sqrt(std::pow(pivot.reach(), 2) - std::pow(y - pivot.pivot.y, 2)), y);
  // A chord of 0.5 mm leaves a circle of radius 450 by 0.5²/(8·450) mm = 7e-5 mm.
  CHECK(value_of(path) == within(0.0, 1e-4));
  for (auto& [x, y] : path.path) x += 3.0;
  path.wish = {Kind::value, 0.0, 0.0, {}};
  path.tolerance = 1.0;
  const Judged off(pivot.layout(), {path});
  CHECK(off.verdict().achieved == within(-3.0, 1e-4));
  CHECK(off.verdict().violation == within(2.0, 1e-4));
  CHECK(off.assessment().score == within(4.0, 1e-3));  // mean over the places of the squares of 2
}

TEST_CASE("measures met, missed and exactly on the edge") {
  Target rises = measured(Measure::rise, Curve::travel);
  // Travel rises through the whole travel: missed by exactly that. Rearward at first moves back or forth as it does.
  rises.wish = {Kind::ceiling, 0.0, 0.0, {}};
  rises.tolerance = 2.0;
  const Judged missed(pivot.layout(), {rises});
  CHECK_FALSE(missed.verdict().met);
  CHECK(missed.verdict().violation == within(pivot.whole(), 1e-9));
  CHECK(missed.verdict().margin == within(-pivot.whole() / 2.0, 1e-9));

  Target falls = rises;
  falls.measure = Measure::fall;
  const Judged met(pivot.layout(), {falls});
  CHECK(met.verdict().met);
  CHECK(met.verdict().achieved == within(-pivot.whole() / 20.0, 1e-9));  // a step of the twenty
  CHECK(met.assessment().score == 0.0);

  Target range = measured(Measure::range, Curve::leverage);
  range.wish = {Kind::ceiling, 0.0, value_of(range), {}};
  const Judged edge(pivot.layout(), {range});
  CHECK(edge.verdict().met);
  CHECK(edge.verdict().margin == 0.0);
  range.wish.hi = std::nextafter(range.wish.hi, 0.0);
  CHECK_FALSE(Judged(pivot.layout(), {range}).verdict().met);
}

TEST_CASE("a crossing is where the curve passes the level") {
  Target crossing = measured(Measure::crossing, Curve::travel);
  crossing.crosses = 61.5;
  CHECK(value_of(crossing) == within(61.5, 1e-9));
  crossing.curve = {Curve::shock, -1};
  crossing.crosses = 21.0;
  // Straight lines over steps h of the travel are off by h²/8·c''/c' at most: here a hundredth of a millimetre.
  CHECK(value_of(crossing) == within(pivot.travel(21.0), 0.03));
  Target fraction = crossing;
  fraction.measure = Measure::crossing_fraction;
  CHECK(value_of(fraction) == within(value_of(crossing) / pivot.whole(), 1e-12));
  // Never reached: beyond the travel, and missed by a ceiling within it.
  crossing.crosses = pivot.stroke + 5.0;
  crossing.wish = {Kind::ceiling, 0.0, pivot.whole(), {}};
  const Judged never(pivot.layout(), {crossing});
  CHECK(never.verdict().achieved > pivot.whole());
  CHECK_FALSE(never.verdict().met);
}

TEST_CASE("a target on several gears is that of the gear which comes out worst") {
  const bike::Layout layout = pivot.layout();
  Target both;
  both.curve = {Curve::anti_squat, 0};
  both.at = {Place::sag, 0.0};
  const auto in = [&](int gear) {
    Target one = both;
    one.curve.gear = gear;
    one.wish = {Kind::band, -1e6, 1e6, {}};
    return value_of(one, layout);
  };
  const double small = in(0), large = in(1);
  REQUIRE(std::abs(small - large) > 1.0);
  both.gears = {0, 1};
  both.wish = {Kind::ceiling, 0.0, 0.5 * (small + large), {}};
  const Judged judged(layout, {both});
  CHECK(judged.verdict().achieved == std::max(small, large));
  CHECK(judged.verdict().gear == (small > large ? 0 : 1));
  CHECK_FALSE(judged.verdict().met);
  // The mean of the two squares, one of which is 0.
  CHECK(judged.assessment().score == within(0.5 * std::pow(0.5 * (small - large), 2), 1e-9));

  Target spread = both;
  spread.measure = Measure::gear_spread;
  spread.wish = {Kind::ceiling, 0.0, 1e6, {}};
  CHECK(value_of(spread, layout) == within(std::abs(small - large), 1e-12));
  CHECK(Judged(layout, {spread}).verdict().gear == -1);
}

TEST_CASE("the sag position is where set-up finds the bike at rest") {
  bike::Layout layout = pivot.layout();
  layout.mass = bike::Masses{78.0, 15.0, 4.0, 3.0};
  layout.set_up.riders = {78.0};
  for (double rate : {40.0, 55.0, 90.0}) {
    layout.shock->spring = spring::Spring(spring::Coil{rate, 1.0});
    layout.shock->spring->stroke = pivot.stroke;
    layout.set_up.coil_rates = {rate};
    const double sag = bike::set_up(layout).front().sag;
    INFO("rate " << rate << ", sag " << sag);
    REQUIRE(sag > 0.02);
    REQUIRE(sag < 0.98);
    Target at = measured(Measure::sag_fraction, Curve::spring_support);
    at.crosses = resting_support;
    // By straight lines between places a twentieth of the travel apart.
    CHECK(value_of(at, layout) == within(sag, 5e-4));
    Target travel = at;
    travel.measure = Measure::sag_travel;
    CHECK(value_of(travel, layout) == within(sag * pivot.whole(), 5e-4 * pivot.whole()));
    Target support;
    support.curve = {Curve::spring_support, -1};
    support.at = {Place::fraction, sag};
    support.wish = {Kind::band, -1e6, 1e6, {}};
    CHECK(value_of(support, layout) == within(100.0, 1e-6));
  }
}

TEST_CASE("mid-stroke support and bottom-out ramp are ratios of wheel forces") {
  bike::Layout layout = pivot.layout();
  const double rate = 60.0;
  layout.shock->spring = spring::Spring(spring::Coil{rate, 0.0});
  layout.shock->spring->stroke = pivot.stroke;
  const double whole = pivot.whole();
  const auto force = [&](double z) {
    const double c = pivot.compression(z);
    return rate * c / pivot.leverage(c);
  };
  Target support = measured(Measure::mid_stroke_support, Curve::wheel_force);
  support.to = {Place::fraction, mid_stroke};
  CHECK(value_of(support, layout) == within(force(0.5 * whole) / force(layout.sag.fraction * whole), 1e-9));
  Target ramp = measured(Measure::bottom_out_ramp, Curve::wheel_force);
  ramp.at = {Place::fraction, ramp_from};
  CHECK(value_of(ramp, layout) == within(force(whole) / force(0.8 * whole), 1e-9));
}

TEST_CASE("the shock's turn and the chainstay's growth by hand") {
  for (double c : {0.0, 20.0, pivot.stroke}) {
    INFO("compression " << c);
    const double turn = pivot.turn(c), out = std::atan2(pivot.eye.y - pivot.pivot.y, pivot.eye.x - pivot.pivot.x);
    const double ex = pivot.pivot.x + pivot.arm() * std::cos(out + turn);
    const double ey = pivot.pivot.y + pivot.arm() * std::sin(out + turn);
    const double angle = math::degrees(std::atan2(ey - pivot.mount.y, ex - pivot.mount.x));
    const double drawn = math::degrees(std::atan2(pivot.eye.y - pivot.mount.y, pivot.eye.x - pivot.mount.x));
    const auto at = [&](Curve curve) {
      Target t;
      t.curve = {curve, -1};
      t.at = {Place::travel, pivot.travel(c)};
      t.wish = {Kind::band, -1e6, 1e6, {}};
      return value_of(t);
    };
    CHECK(std::remainder(at(Curve::shock_angle) - angle, 360.0) == within(0.0, 1e-6));
    CHECK(std::remainder(at(Curve::shock_rotation) - (angle - drawn), 360.0) == within(0.0, 1e-6));
    CHECK(std::abs(at(Curve::shock_rotation)) < 90.0);
    const double level = std::atan2(pivot.axle.y - pivot.pivot.y, pivot.axle.x - pivot.pivot.x) + turn;
    const double stay =
        std::hypot(pivot.pivot.x + pivot.reach() * std::cos(level), pivot.pivot.y + pivot.reach() * std::sin(level));
    const auto named = [&](bike::CurveKey key) {
      Target t;
      t.curve = key;
      t.at = {Place::travel, pivot.travel(c)};
      t.wish = {Kind::band, -1e6, 1e6, {}};
      return value_of(t);
    };
    const linkage::Mechanism mechanism = pivot.layout().mechanism;
    const int eye = test::point_named(mechanism, "eye"), mount = test::point_named(mechanism, "mount");
    CHECK(named({Curve::point_x, -1, eye}) == within(ex, 1e-6));
    CHECK(named({Curve::point_y, -1, eye}) == within(ey, 1e-6));
    CHECK(named({Curve::point_distance, -1, mount, eye}) == within(pivot.drawn() - c, 1e-6));
    CHECK(named({Curve::point_distance, -1, test::point_named(mechanism, "main"), eye}) == within(pivot.arm(), 1e-9));
    const double first = std::hypot(pivot.axle.x, pivot.axle.y);
    CHECK(at(Curve::chainstay_growth_share) == within(100.0 * (stay - first) / first, 1e-9));
  }
}
