// Worked examples with a slider.
//
// Norton, Design of Machinery, 6th ed., examples 4-2 and 6-8 (offset crank-slider), 4-3 and 6-9 (the same linkage
// driven by its slider). Input data read in a published re-working of the examples; answers computed from them by a
// separate program (printed answers from memory agree: θ3 = 152.91°, d = 126.84).
//
// A linkage of three loops and eight links whose answer is published and asserted: the `non-grashof_test` of the
// public Python library `mechanism` (gabemorris12), read; |k̇| = 6.39467 and |k̈| = 2121.04337. The other figures of
// that position were computed by a separate Newton solution of the three loop equations.
#include <catch2/catch.hpp>

#include "tests/support/close.hpp"
#include "tests/support/motion.hpp"
#include "tests/support/textbook.hpp"

using namespace trammel;
using math::Vec2;
using test::polar;
using test::printed;
using test::within;

namespace {

/// Crank about O, rod from A to the slider B on the line y = c; `side` −1 for the book's open branch. All turned by
/// `turned` degrees about O. Drawn with the crank at `degrees`.
test::MechanismBuilder crank_slider(double crank, double rod, double c, double degrees, double side, double turned) {
  const Vec2<double> pin = polar(crank, degrees);
  // Loop: a·e^{iθ2} − b·e^{iθ3} = d + i·c, so θ3 points from the slider to the crank pin.
  const double height = pin.y - c;
  const Vec2<double> slider{pin.x + side * std::sqrt(rod * rod - height * height), c};
  const auto put = [&](const Vec2<double>& p) { return turn(p, math::unit(math::radians(turned))); };
  const Vec2<double> a = put(pin), b = put(slider), left = put({-500.0, c}), right = put({500.0, c});
  return test::MechanismBuilder()
      .point("O", 0, 0)
      .point("A", a.x, a.y)
      .point("B", b.x, b.y)
      .point("left", left.x, left.y)
      .point("right", right.x, right.y)
      .member("frame", {"O", "left", "right"})
      .member("crank", {"O", "A"})
      .member("rod", {"B", "A"})
      .slider("B", "frame", "left", "right");
}

}  // namespace

TEST_CASE("Norton examples 4-2 and 6-8: offset crank-slider in both branches") {
  struct Row {
    double c, side, theta3, d, omega3, rate;
  };
  const Row rows[] = {
      {-20.0, 1.0, 152.91307, 126.83801, 5.61598, 1346.0933},
      {-20.0, -1.0, 27.08693, -86.83801, -5.61598, 732.3677},
      {20.0, 1.0, 172.99197, 139.10349, 5.03764, 1112.9866},
      {20.0, -1.0, 7.00803, -99.10349, -5.03764, 965.4744},
  };
  const double speed = -30.0;
  for (const Row& row : rows) {
    INFO("offset " << row.c << ", side " << row.side);
    test::Motion motion(crank_slider(40.0, 120.0, row.c, 20.0, row.side, 0.0).turn("crank", 2.0 * math::pi).build());
    motion.to(math::radians(60.0 - 20.0));
    CHECK(test::degrees_of(motion.at("B"), motion.at("A")) == printed(row.theta3, 5));
    CHECK(motion.at("B").x == printed(row.d, 5));
    CHECK(motion.at("B").y == within(row.c, 1e-12));
    CHECK(motion.rate("rod") * speed == printed(row.omega3, 5));
    CHECK(motion.velocity("B").x * speed == printed(row.rate, 4));
  }
}

TEST_CASE("Norton examples 4-3 and 6-9: crank-slider driven by its slider") {
  // Turned by 90°, the slider runs along y and rises as `travel` drives it.
  struct Row {
    double drawn, theta2, theta3, omega2, omega3;
  };
  const Row rows[] = {{80.0, 95.798, 150.113, -32.023, -1.244}, {-105.0, -118.418, 187.267, 36.639, 5.859}};
  const double speed = 1200.0;
  for (const Row& row : rows) {
    INFO("circuit at " << row.theta2);
    const linkage::Mechanism mechanism =
        crank_slider(40.0, 120.0, -20.0, row.drawn, 1.0, 90.0).travel("B", 1.0).build();
    test::Motion motion(mechanism);
    motion.to(100.0 - motion.at("B").y);
    CHECK(motion.at("B").y == within(100.0, 1e-11));
    const double theta2 = test::degrees_of(motion.at("O"), motion.at("A")) - 90.0;
    const double theta3 = test::degrees_of(motion.at("B"), motion.at("A")) - 90.0;
    CHECK(test::near(theta2, row.theta2) == printed(row.theta2, 3));
    CHECK(test::near(theta3, row.theta3) == printed(row.theta3, 3));
    CHECK(motion.rate("crank") * speed == printed(row.omega2, 3));
    CHECK(motion.rate("rod") * speed == printed(row.omega3, 3));
  }
}

TEST_CASE("Nikravesh example 5.1: crank-slider without offset") {
  // Data read in a script headed "Example 5.1 (slider-crank)" (attribution to Nikravesh, Planar Multibody Dynamics,
  // from memory); the answer computed from them.
  test::Motion motion(crank_slider(0.12, 0.26, 0.0, 40.0, 1.0, 0.0).turn("crank", 1.0).build());
  motion.to(math::radians(65.0 - 40.0));
  const double speed = 1.6;
  CHECK(math::radians(test::degrees_of(motion.at("A"), motion.at("B"))) == printed(-0.431568390, 9));
  CHECK(motion.at("B").x == printed(0.286875004, 9));
  CHECK(motion.rate("rod") * speed == printed(-0.343590901, 9));
  CHECK(motion.velocity("B").x * speed == printed(-0.211378988, 9));
}

TEST_CASE("three loops, eight links and a slider: the published velocity and acceleration") {
  // Loops: 2.5 e^{iθ} + 8.4 e^{ib} − 5 e^{id} − 12.5 = 0,
  //        8.9 e^{if} − 3.2 e^{ig} − 10.5 i + 5 e^{id} − 2.4 e^{ib} = 0,
  //        6.4 e^{ij} − k e^{i150°} − 1.2 i + 3.2 e^{ig} − 3 e^{if} = 0.
  const double wanted = 52.92024014972946, drawn = 45.0, speed = -30.0;
  const Vec2<double> o4{12.5, 0.0}, o6{12.5, 10.5};
  const Vec2<double> a = polar(2.5, drawn);
  const Vec2<double> b = test::dyad(a, 8.4, o4, 5.0, 1.0);
  const Vec2<double> c = b + (a - b) * (2.4 / 8.4);
  const Vec2<double> d = test::dyad(c, 8.9, o6, 3.2, 1.0);
  const Vec2<double> e = d + (c - d) * (3.0 / 8.9);
  const Vec2<double> start = o6 + Vec2<double>{0.0, 1.2}, along = polar(1.0, 150.0);
  // The slider's place k on its line: |start + k·along − E| = 6.4, the greater root.
  const double middle = dot(along, e - start), off = cross(along, e - start);
  const Vec2<double> f = start + along * (middle + std::sqrt(6.4 * 6.4 - off * off));
  const Vec2<double> far = start + along * 20.0;
  const linkage::Mechanism mechanism = test::MechanismBuilder()
                                           .point("O", 0, 0)
                                           .point("O4", o4.x, o4.y)
                                           .point("O6", o6.x, o6.y)
                                           .point("start", start.x, start.y)
                                           .point("far", far.x, far.y)
                                           .point("A", a.x, a.y)
                                           .point("B", b.x, b.y)
                                           .point("C", c.x, c.y)
                                           .point("D", d.x, d.y)
                                           .point("E", e.x, e.y)
                                           .point("F", f.x, f.y)
                                           .member("frame", {"O", "O4", "O6", "start", "far"})
                                           .member("crank", {"O", "A"})
                                           .member("coupler", {"A", "B", "C"})
                                           .member("rocker", {"O4", "B"})
                                           .member("second coupler", {"C", "D", "E"})
                                           .member("second rocker", {"O6", "D"})
                                           .member("rod", {"E", "F"})
                                           .slider("F", "frame", "start", "far")
                                           .turn("crank", 1.0)
                                           .build();
  test::Motion motion(mechanism);
  motion.to(math::radians(wanted - drawn));
  CHECK(test::degrees_of(motion.at("O4"), motion.at("B")) == printed(124.903678, 6));
  CHECK(test::degrees_of(motion.at("A"), motion.at("B")) == printed(14.520371, 6));
  CHECK(test::degrees_of(motion.at("C"), motion.at("D")) == printed(74.382012, 6));
  CHECK(test::degrees_of(motion.at("O6"), motion.at("D")) == printed(150.613550, 6));
  CHECK(test::degrees_of(motion.at("E"), motion.at("F")) == printed(111.552752, 6));
  CHECK(dot(along, motion.at("F") - start) == printed(6.867017391, 9));
  CHECK(std::abs(dot(along, motion.velocity("F")) * speed) == printed(6.39467, 5));
  CHECK(std::abs(dot(along, motion.acceleration("F")) * speed * speed) == printed(2121.04337, 5));
}

TEST_CASE("crank and slotted lever: the slot runs through the lever's own pivot") {
  // The quick-return drive of a shaping machine, a textbook example (Shigley & Uicker, Theory of Machines and
  // Mechanisms, from memory): the lever points from its pivot at the crank's pin, and stands furthest to a side where
  // it is square to the crank, sin⁻¹(r/d) off the line of centres.
  const double r = 40.0, d = 100.0;
  const Vec2<double> pin{r * std::cos(0.3), d + r * std::sin(0.3)};
  const Vec2<double> end = pin * (180.0 / norm(pin));
  const auto drive = test::MechanismBuilder()
                         .point("lever pivot", 0, 0)
                         .point("crank pivot", 0, d)
                         .point("pin", pin.x, pin.y)
                         .point("end", end.x, end.y)
                         .member("frame", {"lever pivot", "crank pivot"})
                         .member("crank", {"crank pivot", "pin"})
                         .member("lever", {"lever pivot", "end"})
                         .slider("pin", "lever", "lever pivot", "end")
                         .turn("crank", 2.0 * math::pi)
                         .build();
  test::Motion motion(drive);
  double furthest = 0.0;
  for (int step = 1; step <= 36; ++step) {
    const double turned = 0.3 + step * math::pi / 18.0;
    INFO("crank at " << turned);
    motion.to(turned - 0.3, 4);
    const Vec2<double> at{r * std::cos(turned), d + r * std::sin(turned)};
    CHECK(norm(motion.at("pin") - at) < 1e-10);
    CHECK(norm(motion.at("end") - at * (180.0 / norm(at))) < 1e-9);
    furthest = std::max(furthest, std::abs(motion.at("end").x) / 180.0);
  }
  CHECK(furthest == within(r / d, 2e-3));  // crank angles are ten degrees apart
  motion.to(-std::asin(r / d) - 0.3, 40);
  CHECK(motion.at("end").x == within(180.0 * r / d, 1e-9));
}
