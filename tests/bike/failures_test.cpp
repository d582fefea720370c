// Motions that stop: which joint is named, and at what travel.
#include <catch2/catch.hpp>

#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/motion.hpp"
#include "tests/support/textbook.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using math::Vec2;

namespace {

// A position counts as a dead point when sin² of its transmission angle is under 1e-4.
constexpr double least_sine = 0.01;

std::string failure_of(const bike::Layout& layout) {
  try {
    bike::trace(layout, 5, false);
  } catch (const bike::MotionFailure& failure) {
    return failure.text;
  }
  return "";
}

/// The number that stands before `unit` in a message.
double number_before(const std::string& text, const std::string& unit) {
  const std::size_t end = text.find(unit);
  REQUIRE(end != std::string::npos);
  const std::size_t start = text.find_last_of(' ', end - 1) + 1;
  return std::stod(text.substr(start, end - start));
}

bike::Layout swingarm(const Vec2<double>& axle, double stroke) {
  return test::bike_around(test::MechanismBuilder()
                               .point("main", 10, 80)
                               .point("axle", axle.x, axle.y)
                               .point("eye", -60, 190)
                               .point("mount", 140, 230)
                               .member("frame", {"main", "mount"})
                               .member("swingarm", {"main", "axle", "eye"})
                               .shock("mount", "eye", stroke)
                               .build());
}

}  // namespace

TEST_CASE("a shock that comes into line with its arm: joint, travel and stroke") {
  const Vec2<double> main{10, 80}, axle{-435, 20}, eye{-60, 190}, mount{140, 230};
  const double a = norm(eye - main), b = norm(mount - main), drawn = norm(mount - eye);
  // Triangle main–eye–mount with sin(angle at the eye) = 0.01, the shock nearly in line with the arm, the eye between
  // main and mount: the angle at the eye is nearly straight.
  const double at_eye = math::pi - std::asin(least_sine);
  const double length = a * std::cos(at_eye) + std::sqrt(b * b - std::pow(a * std::sin(at_eye), 2));
  const auto angle_at_main = [&](double side) { return std::acos((a * a + b * b - side * side) / (2.0 * a * b)); };
  const double turned = angle_at_main(length) - angle_at_main(drawn);
  const double travel = turn(axle - main, math::unit(turned)).y + main.y - axle.y;
  REQUIRE(length < drawn);

  const std::string text = failure_of(swingarm(axle, drawn - length + 20.0));
  INFO(text);
  CHECK_THAT(text, Contains("dead point at eye, where swingarm and the shock are in line"));
  // Printed to 0.01 mm.
  CHECK(number_before(text, " mm of wheel travel") == test::printed(travel, 2));
  CHECK_THAT(text, Contains("mm of shock stroke"));
  CHECK(number_before(" " + text.substr(text.find('(') + 1), " of ") == test::printed(drawn - length, 2));
}

TEST_CASE("a wheel that cannot rise as far as asked: the top of the axle's circle") {
  // Driven by travel, a short arm: the level line leaves the circle where the arm stands upright.
  const double radius = 150.0;
  const bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                    .point("main", 10, 80)
                                                    .point("axle", 10 - radius, 80)
                                                    .member("frame", {"main"})
                                                    .member("swingarm", {"main", "axle"})
                                                    .travel("axle", 200.0)
                                                    .build());
  const std::string text = failure_of(layout);
  INFO(text);
  CHECK_THAT(text, Contains("dead point at axle"));
  CHECK_THAT(text, !Contains("shock"));
  CHECK(number_before(text, " mm of wheel travel") ==
        test::printed(radius * std::sqrt(1.0 - least_sine * least_sine), 2));
}

TEST_CASE("a wheel that stops rising while the shock goes on") {
  // The arm, drawn 30° short of upright, takes the axle over the top of its circle.
  const double radius = 120.0;
  const Vec2<double> drawn = test::polar(radius, 120.0);
  const bike::Layout layout = swingarm(Vec2<double>{10, 80} + drawn, 90.0);
  const std::string text = failure_of(layout);
  INFO(text);
  CHECK_THAT(text, Contains("stops rising"));
  // Named at the first of 120 stations past the top; the rise is flat there.
  CHECK(number_before(text, " mm of travel") == test::within(radius - drawn.y, 0.02));
}

TEST_CASE("a linkage drawn at a dead point says so") {
  const bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                    .point("main", 0, 0)
                                                    .point("axle", -435, 0)
                                                    .point("eye", 50, 0)
                                                    .point("mount", 200, 0)
                                                    .member("frame", {"main", "mount"})
                                                    .member("swingarm", {"main", "axle", "eye"})
                                                    .shock("mount", "eye", 30)
                                                    .build());
  CHECK_THAT(failure_of(layout), Contains("dead point as drawn") && Contains("eye"));
}

TEST_CASE("a dead point inside a Newton block is at the greatest travel that the linkage has") {
  // Driven by its travel a four-bar is a block; driven by its rocker it goes on in closed form over the greatest
  // travel.
  const auto builder = [] {
    return test::MechanismBuilder()
        .point("main", -8, 55)
        .point("stay", -392, 20)
        .point("axle", -437, 30)
        .point("tail", -105, 345)
        .point("rocker", -45, 305)
        .member("frame", {"main", "rocker"})
        .member("chainstay", {"main", "stay"})
        .member("seatstay", {"stay", "axle", "tail"})
        .member("rocker", {"rocker", "tail"});
  };
  test::Motion by_rocker(builder().turn("rocker", -3.0).build());
  double greatest = 0.0, least_margin = 1.0;
  for (int i = 0; i <= 25000; ++i) {
    greatest = std::max(greatest, by_rocker.to(-1e-4 * i, 1).at("axle").y - 30.0);
    least_margin = std::min(least_margin, by_rocker.least_margin());
  }
  REQUIRE(least_margin > 0.01);
  REQUIRE(by_rocker.at("axle").y - 30.0 < greatest - 1.0);  // it has come down again

  const std::string text = failure_of(test::bike_around(builder().travel("axle", 500.0).build()));
  INFO(text << "; greatest travel " << greatest);
  CHECK_THAT(text, Contains("dead point at tail–rocker"));
  // It stops where the sine of the transmission angle is 0.01, whose square is lost from the travel: some 0.01 mm.
  CHECK(number_before(text, " mm of wheel travel") == test::within(greatest, 0.02));
}

namespace {

/// A swingarm whose link and a bell crank are coupled; the shock floats between arm and crank. Drawn in textbook form
/// for the arm turned by `turned` degrees clockwise: half way up main, link and crank are in line, and there the crank
/// stands still while the arm goes on.
struct FloatingShock {
  static constexpr double arm = 130.0, link = 90.0, crank = 110.0;
  const Vec2<double> main{0, 60}, axle{-435, 30}, low{-60, 150};
  const Vec2<double> in_line = main + test::polar(arm + link, 140.0);  ///< of the crank's end
  const Vec2<double> centre = in_line + test::polar(crank, 50.0);      ///< on which it turns
  const Vec2<double> high_drawn{60, 330};

  Vec2<double> on_arm(const Vec2<double>& drawn, double turned) const {
    return main + turn(drawn - main, math::unit(-math::radians(turned)));
  }
  Vec2<double> knee(double turned) const { return main + test::polar(arm, 150.0 - turned); }
  Vec2<double> end(double turned) const { return test::dyad(knee(turned), link, centre, crank, 1.0); }
  Vec2<double> high(double turned) const {
    const double by = test::degrees_of(centre, end(turned)) - test::degrees_of(centre, end(0.0));
    return centre + turn(high_drawn - centre, math::unit(math::radians(by)));
  }
  double length(double turned) const { return norm(high(turned) - on_arm(low, turned)); }

  test::MechanismBuilder drawn(double stroke) const {
    const Vec2<double> a = knee(0.0), b = end(0.0);
    return test::MechanismBuilder()
        .point("main", main.x, main.y)
        .point("axle", axle.x, axle.y)
        .point("knee", a.x, a.y)  // before the shock's eyes: it is then placed by its two links
        .point("low", low.x, low.y)
        .point("end", b.x, b.y)
        .point("centre", centre.x, centre.y)
        .point("high", high_drawn.x, high_drawn.y)
        .member("frame", {"main", "centre"})
        .member("crank", {"centre", "end", "high"})
        .member("link", {"knee", "end"})
        .member("swingarm", {"main", "axle", "low", "knee"})
        .shock("low", "high", stroke);
  }
};

}  // namespace

TEST_CASE("two links that come into line within a block: said so, by name, and let pass where the brief says so") {
  const FloatingShock bike;
  constexpr double whole = 20.0;
  const double stroke = bike.length(0.0) - bike.length(whole);
  REQUIRE(stroke > 20.0);
  const std::string text = failure_of(test::bike_around(bike.drawn(stroke).build()));
  INFO(text);
  CHECK_THAT(text, Contains("joint knee") && Contains("link and swingarm are in line"));
  CHECK_THAT(text, Contains("linkage.through_line: [knee] lets it go there"));
  CHECK_THAT(text, !Contains("does not assemble") && !Contains("dead point"));
  // In line when turned by 10°; it is told of 0.6° of transmission angle before that.
  const double travel = bike.on_arm(bike.axle, 10.0).y - bike.axle.y;
  CHECK(number_before(text, " mm of wheel travel") == test::within(travel, 3.0));

  const bike::Layout passing = test::bike_around(bike.drawn(stroke).through_line("knee").build());
  const bike::Motion motion = bike::trace(passing, 81, false);
  CHECK(motion.poses.back().travel == test::within(bike.on_arm(bike.axle, whole).y - bike.axle.y, 1e-6));
  const auto at = [&](const bike::Pose& pose, const char* name) {
    return pose.points[static_cast<std::size_t>(test::point_named(passing.mechanism, name))];
  };
  int before = 0, past = 0;
  for (const bike::Pose& pose : motion.poses) {
    // The arm's turn, from where the axle is; all else then follows by the cosine rule.
    const double turned = test::degrees_of(bike.main, bike.axle) - test::degrees_of(bike.main, at(pose, "axle"));
    const double by = std::remainder(turned, 360.0);
    INFO("turned by " << by);
    CHECK(norm(at(pose, "knee") - bike.knee(by)) < 1e-7);
    CHECK(norm(at(pose, "end") - bike.end(by)) < 1e-7);
    CHECK(norm(at(pose, "high") - at(pose, "low")) == test::within(bike.length(0.0) - pose.shock, 1e-7));
    const double side = cross(bike.knee(by) - bike.main, at(pose, "end") - bike.main);
    ++(side > 0.0 ? before : past);
  }
  CHECK(before > 10);
  CHECK(past > 10);
}

TEST_CASE("a dead point that is only come near to") {
  // Crank and ground are at their longest, 550, at 180°; there coupler and rocker are 0.3° from being in line.
  const double angle = math::radians(0.3), coupler = 200.0;
  const double rocker = std::sqrt(550.0 * 550.0 - std::pow(coupler * std::sin(angle), 2)) - coupler * std::cos(angle);
  const test::FourBar linkage{100.0, coupler, rocker, 450.0};
  const auto a = linkage.crank_pin(160.0), b = linkage.rocker_pin(160.0, 1.0);
  const bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                    .point("O2", 0, 0)
                                                    .point("O4", 450, 0)
                                                    .point("A", a.x, a.y)
                                                    .point("axle", b.x, b.y)
                                                    .member("frame", {"O2", "O4"})
                                                    .member("crank", {"O2", "A"})
                                                    .member("coupler", {"A", "axle"})
                                                    .member("rocker", {"O4", "axle"})
                                                    .turn("crank", math::radians(40.0))
                                                    .build());
  const std::string text = failure_of(layout);
  INFO(text);
  CHECK_THAT(text, Contains("comes within 0.6° of a dead point at axle, where coupler and rocker are in line"));
  CHECK_THAT(text, !Contains("does not assemble"));
}
