#include "report/plot.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace trammel::report;

TEST_CASE("ticks are round numbers inside the span") {
  const Ticks t = ticks({0.0, 184.6}, 7);
  CHECK(t.at == std::vector<double>{0, 20, 40, 60, 80, 100, 120, 140, 160, 180});
  CHECK(t.decimals == 0);
  const Ticks fine = ticks({2.83, 3.64}, 6);
  REQUIRE(fine.at.size() >= 4);
  CHECK(fine.decimals == 1);
  CHECK(fine.at.front() == Approx(2.9));
}

TEST_CASE("any span gets between three and fifteen ticks, all of them inside, one, two or five apart") {
  std::mt19937 random(3);
  for (int i = 0; i < 2000; ++i) {
    const double size = std::pow(10.0, static_cast<double>(random() % 90) / 10.0 - 4.0);
    const double lo = (static_cast<double>(random() % 2001) - 1000.0) * size / 500.0;
    const Ticks t = ticks({lo, lo + size}, 6);
    CAPTURE(lo, size);
    REQUIRE(t.at.size() >= 3);
    REQUIRE(t.at.size() <= 15);
    REQUIRE(t.at.front() >= lo - 1e-6 * size);
    REQUIRE(t.at.back() <= lo + size + 1e-6 * size);
    const double step = t.at[1] - t.at[0], lead = step / std::pow(10.0, std::floor(std::log10(step * 1.0001)));
    const bool round = std::abs(lead - 1.0) < 1e-6 || std::abs(lead - 2.0) < 1e-6 || std::abs(lead - 5.0) < 1e-6;
    REQUIRE(round);
  }
}

TEST_CASE("a constant curve, a gap and a value that is not finite give a plot without broken numbers") {
  Plot plot({"flat", "Flat", "x [mm]", "y", {0.0, 10.0}, {5.0, 5.0}});
  plot.curve("a", {0.0, 5.0, std::nullopt, 8.0, 10.0}, {5.0, 5.0, 5.0, std::nan(""), 5.0}, series_pen(0));
  plot.verdict(5.0, 5.0, false);
  const std::string svg = plot.figure().str();
  CHECK(svg.find("nan") == std::string::npos);
  CHECK(svg.find("inf") == std::string::npos);
  CHECK(svg.find("<polyline") != std::string::npos);
}

TEST_CASE("series differ by dash, not only by colour") {
  for (int a = 0; a < 7; ++a) {
    for (int b = 0; b < a; ++b) CHECK(series_pen(a).dash != series_pen(b).dash);
  }
}
