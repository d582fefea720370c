// The packaging and feasibility rules, on layouts whose distances and angles are known in closed form.
#include "objectives/rules/table.hpp"

#include <catch2/catch.hpp>

#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using test::Judged;
using test::within;

namespace {

const test::SinglePivot pivot;
constexpr int march = 24;  // intervals at whose ends the rules are watched

/// Least value of a closed form over the stations of the march, and the compression there.
template <class F>
std::pair<double, double> least(F f) {
  std::pair<double, double> found{1e300, 0.0};
  for (int i = 0; i <= march; ++i) {
    const double c = pivot.stroke * i / march;
    if (f(c) < found.first) found = {f(c), c};
  }
  return found;
}

Packaging with_distance(double d) {
  Packaging p;
  p.least_pivot_distance = d;
  return p;
}
Packaging with_angle(double degrees) {
  Packaging p;
  p.least_transmission_angle = degrees;
  return p;
}

}  // namespace

TEST_CASE("pivots are the points that members share and the shock's eyes") {
  const linkage::Mechanism m = test::MechanismBuilder()
                                   .point("main", 0, 60)
                                   .point("axle", -436, 28)
                                   .point("tail", -105, 345)
                                   .point("rocker", -45, 305)
                                   .point("eye", -20, 360)
                                   .point("mount", 165, 205)
                                   .point("guide", 30, 30)
                                   .member("frame", {"main", "rocker", "mount", "guide"})
                                   .member("chainstay", {"main", "axle"})
                                   .member("seatstay", {"axle", "tail"})
                                   .member("rocker", {"rocker", "tail", "eye"})
                                   .shock("mount", "eye", 55)
                                   .build();
  const auto pairs = rules::pivot_pairs(m);
  CHECK(pairs.size() == 6 * 5 / 2);  // all points but the guide
  const int guide = test::point_named(m, "guide");
  for (const auto& pair : pairs) {
    CHECK(pair.first < pair.second);
    CHECK(pair.first != guide);
    CHECK(pair.second != guide);
  }
}

TEST_CASE("transmission angle: the angle between arm and shock, by the law of sines") {
  const auto [sine, c] = least([](double at) { return pivot.transmission_sine(at); });
  const double angle = math::degrees(std::asin(sine));
  REQUIRE(angle > 20.0);
  for (double demanded : {10.0, angle - 0.01, angle + 0.01, 80.0}) {
    INFO("demanded " << demanded << "°, by hand " << angle << "°");
    const Judged judged(pivot.layout(), {}, with_angle(demanded));
    const RuleVerdict& rule = judged.rule("least transmission angle");
    CHECK(rule.achieved == within(angle, 1e-9));
    CHECK(rule.demanded == demanded);
    CHECK(rule.unit == "°");
    CHECK(rule.at_travel == within(pivot.travel(c), 1e-9));
    CHECK(rule.met == (angle >= demanded));
    CHECK(judged.assessment().feasible() == (angle >= demanded));
    const double short_of = std::max(0.0, std::pow(std::sin(math::radians(demanded)), 2) - sine * sine);
    CHECK(judged.rules_figure() == within(std::pow(short_of / rules::TransmissionAngle::scale, 2) /
                                              (1.0 + std::pow(short_of / rules::TransmissionAngle::scale / 40.0, 2)),
                                          1e-9));
  }
}

TEST_CASE("pivot distance: the least over the stroke, named by its pair") {
  // pivot–eye and pivot–mount do not change; eye–mount is the shock, shortest when bottomed.
  const double bottomed = pivot.drawn() - pivot.stroke;
  REQUIRE(pivot.arm() < bottomed);
  const Judged arm(pivot.layout(), {}, with_distance(pivot.arm() - 0.001));
  CHECK(arm.rule("least pivot distance").achieved == within(pivot.arm(), 1e-9));
  CHECK(arm.rule("least pivot distance").where == "main–eye");
  CHECK(arm.rule("least pivot distance").met);
  CHECK(arm.rules_figure() == 0.0);

  test::SinglePivot longer = pivot;
  longer.stroke = pivot.drawn() - pivot.arm() + 5.0;
  const double distance = longer.drawn() - longer.stroke;
  const Judged shock(longer.layout(), {}, with_distance(distance + 1.0));
  const RuleVerdict& rule = shock.rule("least pivot distance");
  CHECK(rule.achieved == within(distance, 1e-9));
  CHECK(rule.where == "eye–mount");
  CHECK(rule.at_travel == within(longer.whole(), 1e-9));
  CHECK_FALSE(rule.met);
  CHECK_FALSE(shock.assessment().feasible());
  const double r = 1.0 / distance_scale;
  CHECK(shock.rules_figure() == within(r * r / (1.0 + r * r / 1600.0), 1e-9));

  // No distance asked for, no rule.
  CHECK_THROWS_AS(Judged(pivot.layout(), {}).rule("least pivot distance"), std::invalid_argument);
}

TEST_CASE("boxes: a point in, on the edge and out, each side by itself") {
  const bike::Layout layout = pivot.layout();
  const int eye = test::point_named(layout.mechanism, "eye");  // (-60, 190)
  struct Row {
    Interval x, y;
    double out_x, out_y;
  };
  for (const Row& row : std::vector<Row>{{{-80, -40}, {150, 200}, 0, 0},
                                         {{-60, -40}, {150, 190}, 0, 0},
                                         {{-57, -40}, {150, 200}, 3, 0},
                                         {{-80, -61.5}, {150, 185}, 1.5, 5}}) {
    INFO("x from " << row.x.lo << " to " << row.x.hi << ", y from " << row.y.lo << " to " << row.y.hi);
    Packaging packaging;
    packaging.boxes = {{eye, row.x, row.y}};
    const Judged judged(layout, {}, packaging);
    CHECK(judged.assessment().feasible() == (row.out_x == 0.0 && row.out_y == 0.0));
    CHECK(judged.assessment().musts == 5);  // two sides and the three rules that always hold
    CHECK(judged.assessment().musts_met == 5 - (row.out_x > 0.0) - (row.out_y > 0.0));
    const auto limited2 = [](double r) { return r * r / (1.0 + r * r / 1600.0); };
    CHECK(judged.rules_figure() == within(limited2(row.out_x) + limited2(row.out_y), 1e-9));
  }

  Packaging one_side;
  one_side.boxes = {{eye, Interval{-57, -40}, {}}};
  const Judged judged(layout, {}, one_side);
  const RuleVerdict& rule = judged.rule("box: at least");
  CHECK(rule.where == "eye.x");
  CHECK(rule.achieved == -60.0);
  CHECK(rule.demanded == -57.0);
  CHECK_FALSE(rule.met);
  CHECK(judged.assessment().rules.size() == 4);
}

TEST_CASE("the wheel must rise with the shock: the least leverage ratio over the march") {
  const auto [ratio, c] = least([](double at) { return pivot.leverage(at); });
  const Judged judged(pivot.layout(), {});
  const RuleVerdict& rule = judged.rule("wheel rises with the shock");
  CHECK(rule.achieved == within(ratio, 1e-9));
  CHECK(rule.at_travel == within(pivot.travel(c), 1e-9));
  CHECK(rule.met);

  // The eye far out on the arm: 20 mm of wheel for 100 mm of shock.
  test::SinglePivot stiff;
  stiff.axle = {pivot.pivot.x - 40.0, pivot.pivot.y};
  stiff.eye = {pivot.pivot.x - 300.0, pivot.pivot.y};
  stiff.mount = {pivot.pivot.x - 300.0, pivot.pivot.y + 250.0};
  stiff.stroke = 100.0;
  const Judged slow(stiff.layout(), {});
  CHECK(slow.assembles());
  CHECK(slow.rule("wheel rises with the shock").achieved < rules::WheelRises::least);
  CHECK_FALSE(slow.rule("wheel rises with the shock").met);
  CHECK(slow.rules_figure() > 0.0);
}

TEST_CASE("the shock's length: drawn and stated agree to half a millimetre") {
  for (double off : {-2.0, -0.51, -0.49, 0.0, 0.2, 0.49, 0.51, 3.0}) {
    INFO("stated length off by " << off);
    bike::Layout layout = pivot.layout();
    layout.shock->length = pivot.drawn() - off;
    const Judged judged(layout, {});
    const RuleVerdict& rule = judged.rule("shock eye to eye");
    CHECK(rule.achieved == within(pivot.drawn(), 1e-9));
    CHECK(rule.demanded == within(pivot.drawn() - off, 1e-12));
    CHECK(rule.met == (std::abs(off) <= 0.5));
    // The search is asked for half of that, so that what it finds is safely inside.
    const double r = std::max(0.0, std::abs(off) - 0.25) / 0.5;
    CHECK(judged.rules_figure() == within(r * r / (1.0 + r * r / 1600.0), 1e-9));
  }
}
