// Near a dead point positions are exact for as long as the margin says that the linkage assembles.
#include <catch2/catch.hpp>

#include "tests/support/close.hpp"
#include "tests/support/motion.hpp"
#include "tests/support/textbook.hpp"

using namespace trammel;
using test::within;

TEST_CASE("a short link on a long one is exact up to its dead point") {
  // Crank and ground 100 and 450, coupler 30, rocker 440: coupler and rocker come into line when crank pin and O4 are
  // 470 apart, at the crank angle from the cosine rule.
  const test::FourBar linkage{100.0, 30.0, 440.0, 450.0};
  const double dead = std::acos((100.0 * 100.0 + 450.0 * 450.0 - 470.0 * 470.0) / (2.0 * 100.0 * 450.0));
  const double drawn = math::degrees(dead) - 8.0;
  test::Motion motion(linkage.drawn(drawn, 1.0).build());
  bool near = false;
  for (double short_of : {2.0, 0.5, 0.1, 0.01, 1e-3, 1e-4}) {
    motion.to(math::radians(8.0 - short_of));
    INFO(short_of << "° short of the dead point, margin " << motion.least_margin());
    CHECK(motion.least_margin() > 0.0);
    if (motion.least_margin() < 1e-6) continue;  // clamped from here on
    near = near || motion.least_margin() < 2e-5;
    CHECK(norm(motion.at("B") - motion.at("A")) == within(30.0, 1e-9));
    CHECK(norm(motion.at("B") - motion.at("O4")) == within(440.0, 1e-9));
  }
  CHECK(near);
  // Past it the margin is negative and grows with the way past it; nothing is infinite.
  double last = 0.0;
  for (double past : {0.1, 1.0, 5.0, 20.0}) {
    motion.to(math::radians(8.0 + past));
    CHECK(motion.least_margin() < last);
    last = motion.least_margin();
    CHECK(std::isfinite(norm(motion.at("B"))));
    CHECK(std::isfinite(norm(motion.velocity("B"))));
    CHECK(std::isfinite(norm(motion.acceleration("B"))));
  }
}

TEST_CASE("a short rod on a long rail is exact up to its dead point") {
  // The rod is 5 mm, the rail given by two points a metre apart; in line square to the rail at the end.
  const double offset = 10.0;  // height of the rail over the crank's pivot
  const double end = std::asin((offset - 5.0) / 10.0);
  const auto start = test::polar(10.0, 40.0);
  const double rise = offset - start.y;
  const linkage::Mechanism mechanism = test::MechanismBuilder()
                                           .point("O", 0, 0)
                                           .point("A", start.x, start.y)
                                           .point("B", start.x + std::sqrt(25.0 - rise * rise), offset)
                                           .point("left", -500, offset)
                                           .point("right", 500, offset)
                                           .member("frame", {"O", "left", "right"})
                                           .member("crank", {"O", "A"})
                                           .member("rod", {"A", "B"})
                                           .slider("B", "frame", "left", "right")
                                           .turn("crank", -0.2)
                                           .build();
  test::Motion motion(mechanism);
  const double whole = end - math::radians(40.0);
  bool near = false;
  for (double share : {0.5, 0.9, 0.99, 0.999, 0.9999, 0.99999}) {
    motion.to(share * whole);
    INFO(share << " of the way, margin " << motion.least_margin());
    if (motion.least_margin() < 1e-6) continue;
    near = near || motion.least_margin() < 1e-4;
    CHECK(norm(motion.at("B") - motion.at("A")) == within(5.0, 1e-10));
    CHECK(motion.at("B").y == within(offset, 1e-12));
  }
  CHECK(near);
}
