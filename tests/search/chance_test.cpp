// Numbers by chance, and what a count says about a share.
#include "search/chance.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "tests/support/close.hpp"

using namespace trammel;
using search::Share;
using test::printed;
using test::relative;
using test::within;

TEST_CASE("the logarithm is that of the C++ library") {
  std::mt19937_64 random(3);
  std::uniform_real_distribution<double> exponent(-300.0, 300.0);
  for (int i = 0; i < 2000; ++i) {
    const double x = std::pow(10.0, exponent(random));
    CHECK(search::logarithm(x) == relative(std::log(x), 1e-15));
  }
  for (double x : {0.5, 0.70710678, 0.70710679, 1.0 - 0x1p-53, 1.0, 1.0 + 0x1p-52, 2.0, 0x1p-53})
    CHECK(search::logarithm(x) == within(std::log(x), 1e-15 * (1.0 + std::abs(std::log(x)))));
}

TEST_CASE("normal numbers have the distribution function of the C++ library's erfc") {
  // Kolmogorov & Smirnov: of n = 20 000 numbers sup|F_n − F| is under 1.95/√n with probability 0.999 (from memory).
  const search::Stream stream(11, 5, search::Purpose::built_frame);
  constexpr int n = 20000;
  std::vector<double> sample;
  for (std::uint32_t i = 0; i < n; ++i) sample.push_back(search::normal(stream, i));
  std::sort(sample.begin(), sample.end());
  double most = 0.0;
  for (int i = 0; i < n; ++i) {
    const double f = 0.5 * std::erfc(-sample[static_cast<std::size_t>(i)] / std::sqrt(2.0));
    most = std::max({most, std::abs(f - static_cast<double>(i) / n), std::abs(f - (i + 1.0) / n)});
  }
  CHECK(most < 1.95 / std::sqrt(static_cast<double>(n)));
}

TEST_CASE("quantiles of the normal distribution are those of printed tables") {
  // Any table of the normal distribution, e.g. Abramowitz & Stegun, table 26.5 (from memory).
  CHECK(search::normal_quantile(0.5) == within(0.0, 1e-12));
  CHECK(search::normal_quantile(0.95) == printed(1.644854, 6));
  CHECK(search::normal_quantile(0.975) == printed(1.959964, 6));
  CHECK(search::normal_quantile(0.99) == printed(2.326348, 6));
  CHECK(search::normal_quantile(0.999) == printed(3.090232, 6));
  CHECK(search::normal_quantile(0.025) == printed(-1.959964, 6));
}

TEST_CASE("intervals are the score intervals of Newcombe's table") {
  // R. G. Newcombe, Stat. Med. 17 (1998) 857–872, table I, method 3, 95 % (from memory).
  struct Row {
    std::int64_t kept, of;
    double lo, hi;
  };
  const Row rows[] = {
      {81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0.0, 0.1611}, {1, 29, 0.0061, 0.1718}};
  for (const Row& row : rows) {
    const Share share = search::share_of_sample(row.kept, row.of);
    CHECK(share.lo == printed(row.lo, 4));
    CHECK(share.hi == printed(row.hi, 4));
  }
  const Share all = search::share_of_sample(20, 20), none = search::share_of_sample(0, 0);
  CHECK(all.hi == 1.0);
  CHECK(all.lo == within(1.0 - search::share_of_sample(0, 20).hi, 1e-12));
  CHECK(none.lo == 0.0);
  CHECK(none.hi == 1.0);
}

TEST_CASE("an interval of 95 % covers the true share about as often") {
  // Exactly, by summing binomial probabilities. Wilson's interval covers 95 % on the average over p, and may fall short
  // by a few per cent at single p (Brown, Cai & DasGupta, Stat. Sci. 16 (2001) 101–133, from memory).
  constexpr int n = 200, steps = 400;
  std::vector<Share> intervals;
  for (int k = 0; k <= n; ++k) intervals.push_back(search::share_of_sample(k, n));
  double sum = 0.0, least = 1.0;
  for (int step = 1; step < steps; ++step) {
    const double p = static_cast<double>(step) / steps;
    double covered = 0.0;
    for (int k = 0; k <= n; ++k) {
      if (p < intervals[static_cast<std::size_t>(k)].lo || p > intervals[static_cast<std::size_t>(k)].hi) continue;
      covered += std::exp(std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0) + k * std::log(p) +
                          (n - k) * std::log1p(-p));
    }
    sum += covered;
    if (p >= 0.02 && p <= 0.98) least = std::min(least, covered);
  }
  CHECK(sum / (steps - 1) == within(0.95, 0.005));
  CHECK(least > 0.92);
}

TEST_CASE("quantiles lie straight between ordered values") {
  // numpy.quantile([1, 2, 4, 8, 16], [0, 0.05, 0.5, 0.9, 1]) = 1, 1.2, 4, 12.8, 16.
  const std::vector<double> sample{1, 2, 4, 8, 16};
  CHECK(search::quantile(sample, 0.0) == 1.0);
  CHECK(search::quantile(sample, 0.05) == within(1.2, 1e-12));
  CHECK(search::quantile(sample, 0.5) == 4.0);
  CHECK(search::quantile(sample, 0.9) == within(12.8, 1e-12));
  CHECK(search::quantile(sample, 1.0) == 16.0);
  const std::vector<double> one{3.0};
  CHECK(search::quantile(one, 0.95) == 3.0);
}
