#include <boost/random/sobol.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "search/sobol.hpp"

using trammel::search::Sobol;

namespace {

std::vector<double> point(const Sobol& sequence, std::uint64_t index) {
  std::vector<double> x(static_cast<std::size_t>(sequence.dimension()));
  sequence.point(index, x);
  return x;
}

}  // namespace

TEST_CASE("the first points are the published ones", "[sobol]") {
  // The ten first points in three dimensions as Joe & Kuo print them with their generator (web page of the 2008
  // paper's direction numbers; from memory).
  const std::vector<std::vector<double>> published{{0, 0, 0},
                                                   {0.5, 0.5, 0.5},
                                                   {0.75, 0.25, 0.25},
                                                   {0.25, 0.75, 0.75},
                                                   {0.375, 0.375, 0.625},
                                                   {0.875, 0.875, 0.125},
                                                   {0.625, 0.125, 0.875},
                                                   {0.125, 0.625, 0.375},
                                                   {0.1875, 0.3125, 0.9375},
                                                   {0.6875, 0.8125, 0.4375}};
  const Sobol sequence(3);
  for (std::size_t i = 0; i < published.size(); ++i) {
    CAPTURE(i);
    CHECK(point(sequence, i) == published[i]);
  }
}

TEST_CASE("points by index are those the library gives one after the other", "[sobol]") {
  for (const int dimension : {1, 2, 11, 64}) {
    const Sobol sequence(dimension);
    boost::random::sobol library(static_cast<std::size_t>(dimension));  // starts one past the origin
    for (std::uint64_t i = 1; i < 3000; ++i) {
      for (const double x : point(sequence, i)) {
        REQUIRE(x == std::ldexp(static_cast<double>(library() >> 11), -53));
      }
    }
  }
}

TEST_CASE("far points are those to which the library skips", "[sobol]") {
  const Sobol sequence(5);
  boost::random::sobol library(5);
  for (const std::uint64_t i : {1ULL << 20, (1ULL << 32) + 12345, (1ULL << 40) - 1}) {
    library.seed(i - 1);
    for (const double x : point(sequence, i)) CHECK(x == std::ldexp(static_cast<double>(library() >> 11), -53));
  }
}

TEST_CASE("each aligned block of 2^k points has one point in every interval of length 2^-k, shifted or not",
          "[sobol]") {
  for (const Sobol& sequence : {Sobol(64), Sobol(64, 1), Sobol(64, ~0ULL)}) {
    for (const int k : {1, 4, 10}) {
      for (const std::uint64_t block : {0ULL, 1ULL, 7ULL}) {
        const std::uint64_t size = 1ULL << k;
        std::vector<std::vector<int>> filled(64, std::vector<int>(size, 0));
        for (std::uint64_t i = 0; i < size; ++i) {
          const std::vector<double> x = point(sequence, block * size + i);
          for (std::size_t d = 0; d < 64; ++d) ++filled[d][static_cast<std::size_t>(x[d] * static_cast<double>(size))];
        }
        for (const std::vector<int>& counts : filled) REQUIRE(counts == std::vector<int>(size, 1));
      }
    }
  }
}

TEST_CASE("any split into blocks gives the same points", "[sobol]") {
  const Sobol whole(9, 42);
  for (const std::uint64_t block : {1ULL, 7ULL, 100ULL}) {
    for (std::uint64_t first = 0; first < 300; first += block) {
      const Sobol part(9, 42);  // as another process would make it
      for (std::uint64_t i = std::min<std::uint64_t>(300, first + block); i-- > first;) {
        REQUIRE(point(part, i) == point(whole, i));
      }
    }
  }
}

TEST_CASE("the seed moves every dimension, and points stay in the box", "[sobol]") {
  const Sobol plain(64), one(64, 1), two(64, 2);
  for (std::size_t d = 0; d < 64; ++d) {
    CHECK(point(one, 0)[d] != point(plain, 0)[d]);
    CHECK(point(one, 0)[d] != point(two, 0)[d]);
    if (d > 0) CHECK(point(one, 0)[d] != point(one, 0)[0]);
  }
  for (std::uint64_t i = 0; i < 4096; ++i) {
    for (const double x : point(one, i)) REQUIRE((x >= 0.0 && x < 1.0));
  }
}

TEST_CASE("a dimension or index outside the sequence is refused", "[sobol]") {
  CHECK_THROWS_AS(Sobol(0), std::invalid_argument);
  CHECK_THROWS_AS(Sobol(65), std::invalid_argument);
  std::vector<double> x(2);
  CHECK_THROWS_AS(Sobol(2).point(1ULL << 40, x), std::out_of_range);
  CHECK_THROWS_AS(Sobol(3).point(0, x), std::invalid_argument);
}
