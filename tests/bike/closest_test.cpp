// The closest points of two outlines: by hand, and against every pair of many points along them.
#include "bike/closest.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "tests/support/close.hpp"

using namespace trammel;
using bike::BodyOutline;
using linkage::Point;

namespace {

/// Least distance of the lines of two parts over a grid of points along both, less the thicknesses.
double by_grid(const BodyOutline& one, const BodyOutline& other, int steps) {
  double least = 1e9;
  for (const auto& p : one.parts)
    for (const auto& q : other.parts)
      for (int i = 0; i <= steps; ++i)
        for (int j = 0; j <= steps; ++j) {
          const Point a = p.from + (p.to - p.from) * (static_cast<double>(i) / steps);
          const Point b = q.from + (q.to - q.from) * (static_cast<double>(j) / steps);
          least = std::min(least, norm(b - a) - p.radius - q.radius);
        }
  return least;
}

}  // namespace

TEST_CASE("a circle over a tube, by hand") {
  const BodyOutline circle{"circle", false, {{{40.0, 100.0}, {40.0, 100.0}, 30.0}}};
  const BodyOutline tube{"tube", false, {{{0.0, 0.0}, {200.0, 0.0}, 15.0}}};
  const bike::ClosestPoints found = bike::closest(circle, tube);
  CHECK(found.apart == test::within(55.0, 1e-12));
  CHECK(norm(found.on_one - Point{40.0, 70.0}) < 1e-12);
  CHECK(norm(found.on_other - Point{40.0, 15.0}) < 1e-12);

  // Lowered until they overlap by 5 mm: each point lies inside the other.
  const BodyOutline lower{"circle", false, {{{40.0, 40.0}, {40.0, 40.0}, 30.0}}};
  const bike::ClosestPoints deep = bike::closest(lower, tube);
  CHECK(deep.apart == test::within(-5.0, 1e-12));
  CHECK(norm(deep.on_one - Point{40.0, 10.0}) < 1e-12);
  CHECK(norm(deep.on_other - Point{40.0, 15.0}) < 1e-12);

  // Tubes that cross have one point.
  const BodyOutline across{"across", false, {{{50.0, -20.0}, {50.0, 60.0}, 4.0}}};
  const bike::ClosestPoints crossed = bike::closest(tube, across);
  CHECK(norm(crossed.on_one - Point{50.0, 0.0}) < 1e-12);
  CHECK(norm(crossed.on_other - crossed.on_one) == 0.0);
  CHECK(crossed.apart == test::within(-19.0, 1e-12));

  // Two circles about one centre have no direction, but numbers.
  CHECK(bike::closest(circle, circle).apart == test::within(-60.0, 1e-12));
}

TEST_CASE(
    "tubes and polygons anywhere: as near as the nearest of many points, and the points are as far apart as told") {
  std::mt19937 random(5);  // NOLINT(cert-msc51-cpp): written down, so that a failure can be seen again
  std::uniform_real_distribution<double> place(-200.0, 200.0), radius(0.0, 20.0);
  const auto spot = [&] { return Point{place(random), place(random)}; };
  int apart = 0;
  for (int trial = 0; trial < 200; ++trial) {
    const BodyOutline tube{"tube", false, {{spot(), spot(), radius(random)}}};
    const Point a = spot(), b = spot(), c = spot();
    const double thickness = radius(random);
    const BodyOutline plate{"plate", true, {{a, b, thickness}, {b, c, thickness}, {c, a, thickness}}};
    const bike::ClosestPoints found = bike::closest(tube, plate);
    INFO("trial " << trial);
    // Steps of up to 1.5 mm along both lines: never nearer than the least, and at most two half steps farther.
    const double grid = by_grid(tube, plate, 400);
    CHECK(grid >= found.apart - 1e-9);
    CHECK(grid <= found.apart + 1.5);
    if (found.apart <= 0.0) continue;
    ++apart;
    CHECK(norm(found.on_other - found.on_one) == test::within(found.apart, 1e-9));
    const bike::ClosestPoints turned = bike::closest(plate, tube);
    CHECK(turned.apart == test::within(found.apart, 1e-9));
  }
  CHECK(apart > 50);
}
