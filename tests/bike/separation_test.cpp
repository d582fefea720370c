// Distances of points from points and from stretches of lines, by elementary geometry.
#include "bike/separation.hpp"

#include <catch2/catch.hpp>

#include "tests/support/close.hpp"

using namespace trammel;
using bike::Separation;
using test::within;

namespace {

const std::vector<math::Vec2<double>> places{{0.0, 0.0}, {30.0, 40.0}, {100.0, 0.0}, {-20.0, 10.0}, {7.0, 7.0}};

double apart(const Separation& s) {
  return std::sqrt(bike::squared(s, places));
}

}  // namespace

TEST_CASE("a separation from a point is the distance of the two") {
  CHECK(apart({0, 1, 1}) == within(50.0, 1e-14));
  CHECK(apart({1, 1, 1}) == 0.0);
}

TEST_CASE("a separation from a line counts only the stretch between its shares") {
  // The foot of (30, 40) on the line from (0, 0) to (100, 0) lies at a share of 0.3.
  CHECK(apart({1, 0, 2}) == within(40.0, 1e-14));
  CHECK(apart({1, 0, 2, 0.15, 0.85}) == within(40.0, 1e-14));
  CHECK(apart({1, 0, 2, 0.5, 0.85}) == within(std::hypot(20.0, 40.0), 1e-14));
  CHECK(apart({1, 0, 2, 0.1, 0.2}) == within(std::hypot(10.0, 40.0), 1e-14));
  // Behind the line's start.
  CHECK(apart({3, 0, 2}) == within(std::hypot(20.0, 10.0), 1e-14));
  CHECK(apart({3, 0, 2, 0.15, 0.85}) == within(std::hypot(35.0, 10.0), 1e-14));
  // Named the other way round it is the same line.
  CHECK(apart({1, 2, 0, 0.15, 0.5}) == within(std::hypot(20.0, 40.0), 1e-14));
}

TEST_CASE("a line of no length is a point") {
  const std::vector<math::Vec2<double>> on_a_spot{{0.0, 0.0}, {3.0, 4.0}, {3.0, 4.0}};
  CHECK(std::sqrt(bike::squared({0, 1, 2}, on_a_spot)) == within(5.0, 1e-12));
}
