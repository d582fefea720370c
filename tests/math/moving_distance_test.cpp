// The bound against the least of many moments, computed by the distance of a point from a segment that stands still.
#include "math/moving_distance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "tests/support/close.hpp"

using namespace trammel;
using math::StraightWay;
using test::within;
using Point = math::Vec2<double>;

namespace {

Point at(const StraightWay& way, double t) {
  return way.from + (way.to - way.from) * t;
}

double least_of_moments(const StraightWay& p, const StraightWay& start, const StraightWay& end) {
  double least = 1e9;
  for (int i = 0; i <= 2000; ++i) {
    const double t = i / 2000.0;
    least = std::min(least, math::squared_distance(at(p, t), math::Segment<double>{at(start, t), at(end, t)}));
  }
  return std::sqrt(least);
}

}  // namespace

TEST_CASE("no moment is nearer than the bound says, and the bound is sharp to second order of the turn") {
  std::mt19937_64 random(31);
  std::uniform_real_distribution<double> place(-100.0, 100.0), step(-1.0, 1.0);
  const auto point = [&] { return Point{place(random), place(random)}; };
  for (int trial = 0; trial < 3000; ++trial) {
    const double stride = trial % 3 == 0 ? 20.0 : trial % 3 == 1 ? 2.0 : 0.2;
    const auto way = [&] {
      const Point from = point();
      return StraightWay{from, from + Point{step(random), step(random)} * stride};
    };
    const StraightWay p = way(), start = way(), end = way();
    const double bound = math::least_distance(p, start, end), found = least_of_moments(p, start, end);
    // Moments are up to a two-thousandth of the ways apart.
    INFO("trial " << trial << ": bound " << bound << ", found " << found);
    CHECK(bound <= found + 1e-9);
    // A segment turns by an angle of about the ends' ways over its length, and grows by as much of its length.
    const double length = std::max(norm(end.from - start.from) - 3.0 * stride, 1.0), turn = 3.0 * stride / length;
    if (turn < 0.2) CHECK(bound >= found * (1.0 - 2.0 * turn) - 4.0 * stride * turn - 0.005 * stride);
  }
}

TEST_CASE("a point over a resting segment, beside its end, crossing it, and one that it travels along with") {
  const StraightWay start{{0, 0}, {0, 0}}, end{{10, 0}, {10, 0}};
  CHECK(math::least_distance({{2, 3}, {8, 5}}, start, end) == within(3.0, 1e-12));
  CHECK(math::least_distance({{2, 3}, {8, 1}}, start, end) == within(1.0, 1e-12));
  CHECK(math::least_distance({{13, 4}, {13, -6}}, start, end) ==
        within(3.0, 1e-12));  // nearest in between, off the end
  CHECK(math::least_distance({{-3, 4}, {-6, 8}}, start, end) == within(5.0, 1e-12));
  CHECK(math::least_distance({{2, 3}, {8, -5}}, start, end) == 0.0);
  // All go together: nothing comes nearer.
  CHECK(math::least_distance({{4, 2}, {104, 52}}, {{0, 0}, {100, 50}}, {{10, 0}, {110, 50}}) == within(2.0, 1e-12));
  // A segment of no length is a point: circles that pass each other come nearest half way.
  CHECK(math::least_distance({{-5, 3}, {5, 3}}, {{0, 0}, {0, 0}}, {{0, 0}, {0, 0}}) == within(3.0, 1e-12));
}
