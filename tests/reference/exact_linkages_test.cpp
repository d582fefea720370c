// Linkages whose motion is known exactly: the straight-line linkages of Chebyshev and Hoecken (classic proportions,
// from memory; the exact places follow from them by Pythagoras), a parallelogram, and a single pivot in closed form.
#include <catch2/catch.hpp>
#include <tuple>

#include "bike/station.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/motion.hpp"
#include "tests/support/textbook.hpp"

using namespace trammel;
using math::radians;
using test::relative;
using test::within;

namespace {

// The greatest height of both curves, whose exact value is not known in closed form; computed by fine sampling.
constexpr double greatest_height = 4.0097537;

/// Smallest and greatest y of a point over an arc of the crank.
std::pair<double, double> heights(test::Motion& motion, const char* point, double from, double to) {
  double least = 1e9, greatest = -1e9;
  for (int i = 0; i <= 2000; ++i) {
    const double y = motion.to(from + (to - from) * i / 2000, 1).at(point).y;
    least = std::min(least, y);
    greatest = std::max(greatest, y);
  }
  return {least, greatest};
}

}  // namespace

TEST_CASE("Chebyshev's straight-line linkage passes its three exact points") {
  // Ground 4, crank = rocker = 5, coupler 2, crossed; drawn in the middle, coupler level. At either end one arm stands
  // upright in line with the coupler, which is a dead point for the other: each end is reached by turning its own arm.
  const auto drawn = [](const char* driven) {
    return test::Motion(test::MechanismBuilder()
                            .point("O2", 0, 0)
                            .point("O4", 4, 0)
                            .point("A", 3, 4)
                            .point("B", 1, 4)
                            .point("M", 2, 4)
                            .member("frame", {"O2", "O4"})
                            .member("crank", {"O2", "A"})
                            .member("coupler", {"A", "B", "M"})
                            .member("rocker", {"O4", "B"})
                            .turn(driven, 1.0)
                            .build());
  };
  const double to_upright = math::pi / 2.0 - std::atan2(4.0, 3.0);
  for (const auto& [driven, turn, x] : {std::tuple{"crank", to_upright, 0.0}, std::tuple{"rocker", -to_upright, 4.0}}) {
    INFO("end at x = " << x);
    test::Motion motion = drawn(driven);
    CHECK(motion.at("M").x == within(2.0, 1e-12));
    const auto [least, greatest] = heights(motion, "M", 0.0, turn);
    CHECK(motion.at("M").x == within(x, 1e-12));
    CHECK(motion.at("M").y == within(4.0, 1e-12));
    CHECK(least == within(4.0, 1e-12));
    // Sampling 2000 places misses the top by less than half a digit of the figure.
    CHECK(greatest == test::printed(greatest_height, 7));
  }
}

TEST_CASE("Hoecken's linkage draws the same line, its cognate after Roberts") {
  // Ground 2, crank 1, coupler = rocker = 2.5, the point 5 from the crank pin along the coupler.
  const test::FourBar linkage{1.0, 2.5, 2.5, 2.0};
  const auto pin = linkage.crank_pin(180.0), end = linkage.rocker_pin(180.0, 1.0);
  const auto tip = pin + (end - pin) * 2.0;
  test::Motion motion(test::MechanismBuilder()
                          .point("O2", 0, 0)
                          .point("O4", 2, 0)
                          .point("A", pin.x, pin.y)
                          .point("B", end.x, end.y)
                          .point("tip", tip.x, tip.y)
                          .member("frame", {"O2", "O4"})
                          .member("crank", {"O2", "A"})
                          .member("coupler", {"A", "B", "tip"})
                          .member("rocker", {"O4", "B"})
                          .turn("crank", 6.0)
                          .build());
  // Crank at 90° and 270°: by Pythagoras B is (2, 2.5) and (0, 1.5), the tip twice as far from the pin.
  motion.to(radians(-90.0));
  CHECK(motion.at("tip").x == within(4.0, 1e-12));
  CHECK(motion.at("tip").y == within(4.0, 1e-12));
  motion.to(radians(90.0));
  CHECK(motion.at("tip").x == within(0.0, 1e-12));
  CHECK(motion.at("tip").y == within(4.0, 1e-12));
  const auto [least, greatest] = heights(motion, "tip", radians(-90.0), radians(90.0));
  CHECK(least == within(4.0, 1e-12));
  CHECK(greatest == test::printed(greatest_height, 7));
}

TEST_CASE("a parallelogram carries its axle on a circle and has its instant centre at infinity") {
  // Two equal, parallel arms of 100 mm: the rear member does not turn, the axle moves on a circle of 100 mm.
  const linkage::Mechanism mechanism = test::MechanismBuilder()
                                           .point("low", 0, 60)
                                           .point("lowend", -100, 60)
                                           .point("high", 20, 200)
                                           .point("highend", -80, 200)
                                           .point("axle", -440, 20)
                                           .member("frame", {"low", "high"})
                                           .member("lower", {"low", "lowend"})
                                           .member("upper", {"high", "highend"})
                                           .member("rear", {"lowend", "highend", "axle"})
                                           .travel("axle", 80.0)
                                           .build();
  const bike::Layout layout = test::bike_around(mechanism);
  const bike::Motion motion = bike::trace(layout, 9, true);
  const bike::Column* x = motion.table.find({bike::Curve::ic_x, -1});
  const bike::Column* y = motion.table.find({bike::Curve::ic_y, -1});
  REQUIRE(x != nullptr);
  REQUIRE(y != nullptr);
  const auto anti_rise = test::column(motion.table, "anti_rise_pct");
  const auto height = test::column(motion.table, "cg_height_mm"),
             wheelbase = test::column(motion.table, "wheelbase_mm");
  for (std::size_t i = 0; i < motion.poses.size(); ++i) {
    const bike::Pose& pose = motion.poses[i];
    INFO("station " << i << ", travel " << pose.travel);
    CHECK_FALSE(x->values[i].has_value());
    CHECK_FALSE(y->values[i].has_value());
    CHECK_FALSE(pose.instant_centre.has_value());
    const double rise = 10.0 * static_cast<double>(i);
    const double arm_x = -std::sqrt(100.0 * 100.0 - rise * rise);
    const auto axle = pose.points[4];
    CHECK(axle.x == within(-440.0 + 100.0 + arm_x, 1e-10));
    CHECK(axle.y == within(20.0 + rise, 1e-10));
    // The direction of the far centre lies along both arms.
    CHECK(std::abs(cross(pose.ic_direction, math::Vec2<double>{arm_x, rise} * 0.01)) < 1e-12);
    // The force line of a brake is then parallel to the arms, on the ground's axes.
    const auto t = pose.ground, n = perp(pose.ground);
    const math::Vec2<double> arm{arm_x, rise};
    CHECK(anti_rise[i] == within(100.0 * dot(arm, n) / dot(arm, t) * wheelbase[i] / height[i], 1e-9));
  }
}

TEST_CASE("a single pivot in closed form: path, leverage and instant centre") {
  // Swing arm about `main`; the shock from `mount` on the frame to `eye` on the arm makes a triangle with two fixed
  // sides, so its length gives the angle by the cosine rule.
  const math::Vec2<double> main{10, 80}, axle{-435, 20}, eye{-60, 190}, mount{140, 230};
  const double stroke = 55.0;
  const linkage::Mechanism mechanism = test::MechanismBuilder()
                                           .point("main", main.x, main.y)
                                           .point("axle", axle.x, axle.y)
                                           .point("eye", eye.x, eye.y)
                                           .point("mount", mount.x, mount.y)
                                           .member("frame", {"main", "mount"})
                                           .member("swingarm", {"main", "axle", "eye"})
                                           .shock("mount", "eye", stroke)
                                           .build();
  const bike::Motion motion = bike::trace(test::bike_around(mechanism), 12, false);
  const auto leverage = test::column(motion.table, "leverage");
  const auto x = test::column(motion.table, "axle_x_mm"), y = test::column(motion.table, "axle_y_mm");
  const auto ic_x = test::column(motion.table, "ic_x_mm"), ic_y = test::column(motion.table, "ic_y_mm");
  const auto shock = test::column(motion.table, "shock_mm");
  const double to_eye = norm(eye - main), to_mount = norm(mount - main), drawn = norm(mount - eye);
  const auto angle_at = [&](double length) {
    return std::acos((to_eye * to_eye + to_mount * to_mount - length * length) / (2.0 * to_eye * to_mount));
  };
  for (std::size_t i = 0; i < shock.size(); ++i) {
    INFO("shock " << shock[i]);
    CHECK(shock[i] == within(stroke * static_cast<double>(i) / 11.0, 1e-12));
    const double length = drawn - shock[i];
    // The eye lies counter-clockwise of the mount, so a shorter shock turns the arm clockwise and lifts the axle.
    const double turned = angle_at(length) - angle_at(drawn);
    const auto arm = turn(axle - main, math::unit(turned));
    CHECK(x[i] == within(main.x + arm.x, 1e-10));
    CHECK(y[i] == within(main.y + arm.y, 1e-10));
    // dy/dθ = arm.x; dθ/dc = −length/(a·b·sin θ) from the cosine rule.
    const double per_shock = -length / (to_eye * to_mount * std::sin(angle_at(length)));
    CHECK(leverage[i] == relative(arm.x * per_shock, 1e-11));
    CHECK(ic_x[i] == within(main.x, 1e-9));
    CHECK(ic_y[i] == within(main.y, 1e-9));
  }
}
