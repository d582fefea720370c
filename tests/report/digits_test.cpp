#include "report/digits.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <charconv>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

using namespace trammel::report;

namespace {

double read_back(const std::string& text) {
  double x = 0.0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), x);
  REQUIRE(result.ec == std::errc{});
  REQUIRE(result.ptr == text.data() + text.size());
  return x;
}

}  // namespace

TEST_CASE("exact digits read back to the same bits") {
  std::mt19937_64 random(11);
  for (int i = 0; i < 20000; ++i) {
    const double x = std::bit_cast<double>(random());
    if (!std::isfinite(x)) continue;
    REQUIRE(std::bit_cast<std::uint64_t>(read_back(exact(x))) == std::bit_cast<std::uint64_t>(x));
  }
  for (const double x : {0.0, 0.1, 1.0 / 3.0, -437.0, 1e15, 1e-6, 9.999e-7, std::numeric_limits<double>::max(),
                         std::numeric_limits<double>::denorm_min()}) {
    CHECK(read_back(exact(x)) == x);
  }
}

TEST_CASE("exact digits are short, and plain where a reader expects plain") {
  CHECK(exact(0.1) == "0.1");
  CHECK(exact(230.0) == "230");
  CHECK(exact(100000.0) == "100000");
  // YAML 1.1 (yaml.org/type/float.html) asks for a point in a number with an exponent.
  CHECK(exact(1e-7) == "1.0e-07");
  CHECK(exact(1.5e20) == "1.5e+20");
}

TEST_CASE("what is not a number is refused or shown as a dash") {
  CHECK_THROWS_AS(exact(std::nan("")), std::invalid_argument);
  CHECK_THROWS_AS(exact(-INFINITY), std::invalid_argument);
  CHECK(shown(std::nan(""), 2) == "–");
  CHECK(significant(-INFINITY, 3) == "–");
}

TEST_CASE("shown numbers are rounded and have no negative zero") {
  CHECK(shown(103.249, 1) == "103.2");
  CHECK(shown(-0.04, 1) == "0.0");
  CHECK(shown(-0.06, 1) == "-0.1");
  CHECK(significant(0.0587165, 4) == "0.05872");
  CHECK(significant(-0.0, 4) == "0");
}

TEST_CASE("thousands are grouped") {
  CHECK(grouped(999) == "999");
  CHECK(grouped(48312) == "48\u202F312");
  CHECK(grouped(-1234567) == "-1\u202F234\u202F567");
}

TEST_CASE("a tenth of a tolerance is visible") {
  CHECK(decimals_for(2.0) == 1);
  CHECK(decimals_for(0.05) == 3);
  CHECK(decimals_for(20.0) == 0);
  CHECK(decimals_for(1.0) == 1);
  CHECK(decimals_for(0.0) == 3);
}
