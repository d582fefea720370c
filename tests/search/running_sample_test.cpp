// A sample that is not kept: exact while it is short, and as good as the sample is when it is long.
#include "search/running_sample.hpp"

#include <sys/resource.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "search/chance.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using search::RunningSample;
using test::relative;
using test::within;

namespace {

RunningSample taken(const std::vector<double>& numbers) {
  RunningSample out(0.05, 0.95);
  for (double y : numbers) out.add(y);
  return out;
}

std::vector<double> sample(std::size_t n, std::uint32_t seed, bool normal) {
  std::mt19937 random(seed);
  std::normal_distribution<double> bell(30.0, 2.0);
  std::uniform_real_distribution<double> even(-1.0, 1.0);
  std::vector<double> out(n);
  for (double& y : out) y = normal ? bell(random) : even(random);
  return out;
}

}  // namespace

TEST_CASE("as long as all numbers are kept, quantiles are those of the sorted sample") {
  for (const std::size_t n : {std::size_t{1}, std::size_t{2}, std::size_t{40}, std::size_t{2048}}) {
    std::vector<double> all = sample(n, 3, true);
    const RunningSample running = taken(all);
    double sum = 0.0, squares = 0.0;
    for (double y : all) sum += y;
    for (double y : all) squares += (y - sum / static_cast<double>(n)) * (y - sum / static_cast<double>(n));
    std::sort(all.begin(), all.end());
    INFO(n);
    CHECK(running.count() == static_cast<std::int64_t>(n));
    CHECK(running.mean() == sum / static_cast<double>(n));
    CHECK(running.deviation() == (n > 1 ? std::sqrt(squares / (static_cast<double>(n) - 1.0)) : 0.0));
    CHECK(running.quantiles()[0] == search::quantile(all, 0.05));
    CHECK(running.quantiles()[1] == search::quantile(all, 0.95));
  }
}

TEST_CASE("beyond, the bins err by far less than the sample does") {
  for (const bool normal : {true, false})
    for (const std::size_t n : {std::size_t{2049}, std::size_t{20000}, std::size_t{400000}}) {
      std::vector<double> all = sample(n, 11, normal);
      const RunningSample running = taken(all);
      std::sort(all.begin(), all.end());
      // Standard error of a quantile: √(q(1 − q)/n) over the density there, 0.103/2 for the normal one, 1/2 for the
      // even.
      const double error = std::sqrt(0.05 * 0.95 / static_cast<double>(n)) / (normal ? 0.0515 : 0.5);
      INFO(n << (normal ? " normal" : " even"));
      CHECK(running.quantiles()[0] == within(search::quantile(all, 0.05), 0.2 * error));
      CHECK(running.quantiles()[1] == within(search::quantile(all, 0.95), 0.2 * error));
      double sum = 0.0, squares = 0.0;
      for (double y : all) sum += y;
      const double mean = sum / static_cast<double>(n);
      for (double y : all) squares += (y - mean) * (y - mean);
      CHECK(running.mean() == within(mean, 1e-11));
      CHECK(running.deviation() == relative(std::sqrt(squares / (static_cast<double>(n) - 1.0)), 1e-11));
    }
}

TEST_CASE("numbers that are all one, and one that is none") {
  const RunningSample same = taken(std::vector<double>(5000, 7.25));
  CHECK(same.quantiles()[0] == 7.25);
  CHECK(same.quantiles()[1] == 7.25);
  CHECK(same.deviation() == 0.0);
  CHECK(same.finite());
  for (const std::size_t at : {std::size_t{5}, std::size_t{3000}}) {
    std::vector<double> all = sample(4000, 5, true);
    all[at] = std::nan("");
    CHECK_FALSE(taken(all).finite());
  }
}

TEST_CASE("what a long sample takes in memory does not grow with it") {
  const auto most_kb = [] {
    rusage use{};
    getrusage(RUSAGE_SELF, &use);
    return use.ru_maxrss;
  };
  // As many numbers a frame as a layout with twenty curves has, 7.4 kB; a hundred thousand frames of them took 740 MB.
  std::vector<RunningSample> all(925, RunningSample(0.05, 0.95));
  const long before = most_kb();
  std::mt19937 random(1);
  for (int frame = 0; frame < 100'000; ++frame) {
    const double y = static_cast<double>(random()) / 4294967296.0;
    for (RunningSample& one : all) one.add(y);
  }
  CHECK(most_kb() - before < 64 * 1024);
  CHECK(all.front().quantiles()[0] == within(0.05, 0.005));
}
