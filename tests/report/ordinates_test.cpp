// Numbers along an edge that keep apart.
#include "report/ordinates.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

using trammel::report::spread_apart;

TEST_CASE("numbers with room stay where they are wished") {
  CHECK(spread_apart({}, 4.0).empty());
  CHECK(spread_apart({1.0, 5.0, 20.0}, 4.0) == std::vector<double>{1.0, 5.0, 20.0});
}

TEST_CASE("those too close share their shift") {
  CHECK(spread_apart({10.0, 10.0}, 4.0) == std::vector<double>{8.0, 12.0});
  CHECK(spread_apart({0.0, 1.0, 2.0}, 4.0) == std::vector<double>{-3.0, 1.0, 5.0});
}

TEST_CASE("no shift of one number or of a row of them brings the sum of squares down") {
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> place(0.0, 40.0);
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<double> wished(8);
    for (double& w : wished) w = place(random);
    std::sort(wished.begin(), wished.end());
    const std::vector<double> places = spread_apart(wished, 3.0);
    const auto cost = [&](const std::vector<double>& at) {
      double sum = 0.0;
      for (std::size_t i = 0; i < at.size(); ++i) sum += (at[i] - wished[i]) * (at[i] - wished[i]);
      return sum;
    };
    const auto keeps_apart = [](const std::vector<double>& at) {
      for (std::size_t i = 1; i < at.size(); ++i)
        if (at[i] - at[i - 1] < 3.0 - 1e-9) return false;
      return true;
    };
    REQUIRE(keeps_apart(places));
    for (std::size_t from = 0; from < places.size(); ++from)
      for (std::size_t to = from + 1; to <= places.size(); ++to)
        for (const double by : {-0.01, 0.01}) {
          std::vector<double> moved = places;
          for (std::size_t i = from; i < to; ++i) moved[i] += by;
          if (keeps_apart(moved)) CHECK(cost(moved) >= cost(places) - 1e-9);
        }
  }
}
