// Reductions of a curve's values to one number: closed forms of a parabola and a line, sequences reduced by hand,
// partial derivatives against central differences, packs against plain numbers.
#include "objectives/gathering.hpp"

#include <catch2/catch.hpp>
#include <cstring>
#include <random>

#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using test::within;

namespace {

constexpr std::size_t intervals = 20, places = intervals + 1;

Target target(Measure measure) {
  Target t;
  t.measure = measure;
  t.curve = {bike::Curve::anti_squat, 0};
  t.over = Stretch{};
  return t;
}

double reduced_of(const Target& t, const std::vector<double>& seen, std::size_t at, std::size_t result = 0) {
  const Gathering g = make_gathering(t, at);
  REQUIRE(seen.size() == g.seen());
  REQUIRE(result < g.results());
  return reduced<double>(g, result, [&](std::size_t i) { return seen[i]; });
}

/// y over a stretch from z = 30 to 150 mm, and the travel at its ends where it is seen.
std::vector<double> sampled(const Target& t, auto&& y) {
  std::vector<double> seen;
  for (std::size_t i = 0; i < places; ++i) seen.push_back(y(30.0 + 120.0 * static_cast<double>(i) / intervals));
  if (make_gathering(t, places).extent) seen.insert(seen.end(), {30.0, 150.0});
  return seen;
}

}  // namespace

TEST_CASE("a parabola's mean, slope, curvature and straightness in closed form") {
  const double a = 90.0, b = 0.4, c = -0.003, from = 30.0, to = 150.0, length = to - from;
  const auto y = [&](double z) { return a + b * z + c * z * z; };
  const auto of = [&](Measure m) { return reduced_of(target(m), sampled(target(m), y), places); };
  const auto integral = [&](double z) { return a * z + b * z * z / 2.0 + c * z * z * z / 3.0; };
  CHECK(of(Measure::mean) == within((integral(to) - integral(from)) / length, 1e-12));
  // The least-squares line of a parabola over evenly spaced places has its slope at the middle.
  CHECK(of(Measure::slope) == within(b + 2.0 * c * 0.5 * (from + to), 1e-14));
  CHECK(of(Measure::curvature) == within(2.0 * c, 1e-15));
  // Off the line by c·L²·(v² − mean of v²), v = u − ½; n + 1 even places have the mean (n + 2)/(12·n). Most at the
  // ends.
  const double n = intervals, mean = (n + 2.0) / (12.0 * n);
  CHECK(of(Measure::straightness) == within(-c * length * length * (0.25 - mean), 1e-11));
  // The top, z = −b/2c = 66.67, lies between two places: the greatest is that at 66.
  CHECK(of(Measure::greatest) == within(y(66.0), 1e-12));
  CHECK(of(Measure::least) == within(y(to), 1e-12));
  CHECK(of(Measure::range) == within(y(66.0) - y(to), 1e-12));
  CHECK(of(Measure::rise) == within(y(66.0) - y(from), 1e-12));
  CHECK(of(Measure::fall) == within(y(66.0) - y(to), 1e-12));
}

TEST_CASE("a line is straight, has no curvature, and Simpson's rule is exact for a cubic") {
  const auto line = [](double z) { return 7.0 - 0.25 * z; };
  const auto of = [&](Measure m) { return reduced_of(target(m), sampled(target(m), line), places); };
  CHECK(of(Measure::slope) == within(-0.25, 1e-15));
  CHECK(of(Measure::curvature) == within(0.0, 1e-15));
  CHECK(of(Measure::straightness) == within(0.0, 1e-12));
  const Target mean = target(Measure::mean);
  CHECK(reduced_of(mean, sampled(mean, [](double z) { return z * z * z; }), places) ==
        within((std::pow(150.0, 4) - std::pow(30.0, 4)) / 4.0 / 120.0, 1e-8));
}

TEST_CASE("the fewest places of a stretch, three") {
  const std::vector<double> values{1.0, 4.0, 3.0};
  const auto with_extent = [&](double from, double to) {
    std::vector<double> seen = values;
    seen.insert(seen.end(), {from, to});
    return seen;
  };
  CHECK(reduced_of(target(Measure::mean), values, 3) == within((1.0 + 16.0 + 3.0) / 6.0, 1e-15));
  CHECK(reduced_of(target(Measure::slope), with_extent(10, 14), 3) == within(0.5, 1e-15));
  // Second difference over the step squared.
  CHECK(reduced_of(target(Measure::curvature), with_extent(10, 14), 3) == within((1.0 - 8.0 + 3.0) / 4.0, 1e-15));
  // A stretch without length stays finite.
  CHECK(std::isfinite(reduced_of(target(Measure::slope), with_extent(10, 10), 3)));
}

TEST_CASE("the greatest rise and fall of sequences by hand") {
  const auto rise = [](std::vector<double> y) { return reduced_of(target(Measure::rise), y, y.size()); };
  const auto fall = [](std::vector<double> y) { return reduced_of(target(Measure::fall), y, y.size()); };
  CHECK(rise({5, 3, 4, 1, 2}) == 1.0);
  CHECK(fall({5, 3, 4, 1, 2}) == 4.0);
  CHECK(rise({1, 2, 5, 4, 9}) == 8.0);
  CHECK(fall({1, 2, 5, 4, 9}) == 1.0);
  // Falling throughout: the flattest step, below 0. Level: 0.
  CHECK(rise({9, 7, 6, 2, 1}) == -1.0);
  CHECK(fall({1, 1, 1}) == 0.0);
}

TEST_CASE("two places") {
  CHECK(reduced_of(target(Measure::difference), {2.5, 3.75}, 2) == 1.25);
  CHECK(reduced_of(target(Measure::ratio), {2.5, 3.75}, 2) == 1.5);
  CHECK(reduced_of(target(Measure::progressivity), {2.5, 2.0}, 2) == within(0.2, 1e-15));
  CHECK(std::isfinite(reduced_of(target(Measure::ratio), {0.0, 3.75}, 2)));
}

TEST_CASE("crossings: the first one, by straight lines; graded where there is none") {
  Target fraction = target(Measure::crossing_fraction), travel = target(Measure::crossing);
  fraction.crosses = travel.crosses = 100.0;
  const auto at = [&](const std::vector<double>& y) { return reduced_of(fraction, y, y.size()); };
  CHECK(at({120, 110, 90, 80, 70}) == within(0.375, 1e-15));
  CHECK(at({90, 96, 104, 96, 90}) == within(0.375, 1e-15));  // crosses twice: the first counts
  CHECK(at({100, 90, 80}) == 0.0);
  CHECK(at({120, 110, 100}) == 1.0);
  CHECK(at({100, 100, 100}) == 0.0);
  std::vector<double> seen{120, 110, 90, 80, 70, 0.0, 160.0};
  CHECK(reduced_of(travel, seen, 5) == within(60.0, 1e-12));

  // Still above at the end: beyond it, the further the wider the gap. Moving away from it: before the start.
  const double near = at({130, 110, 102}), far = at({130, 120, 110});
  CHECK(near > 1.0);
  CHECK(far > near);
  CHECK(at({98, 90, 80}) < 0.0);
  CHECK(at({90, 80, 70}) < at({98, 90, 80}));
  // Anti-squat's tolerance is 2 %; a hundred of them count as one travel.
  CHECK(near == within(1.0 + 2.0 / 200.0, 1e-15));
  CHECK(at({98, 90, 80}) == within(-2.0 / 200.0, 1e-15));
  // Nearest in the middle: it has not crossed yet.
  CHECK(at({90, 99, 90}) > 1.0);
}

TEST_CASE("several gears: a number each, or their spread") {
  Target mean = target(Measure::greatest), spread = target(Measure::gear_spread);
  mean.gears = spread.gears = {0, 1, 2};
  const std::vector<double> seen{1, 2, 3, /**/ 4, 2, 9, /**/ 7, 0, 4};
  CHECK(reduced_of(mean, seen, 3, 0) == 3.0);
  CHECK(reduced_of(mean, seen, 3, 1) == 9.0);
  CHECK(reduced_of(mean, seen, 3, 2) == 7.0);
  CHECK(make_gathering(spread, 3).results() == 1);
  CHECK(reduced_of(spread, seen, 3) == 6.0);  // 7 − 1, 2 − 0, 9 − 3
}

TEST_CASE("deviation from a wheel path, along x at the axle's own y") {
  Target path = target(Measure::path_deviation);
  path.curve = {bike::Curve::axle_x, -1};
  path.path = {{-430.0, 20.0}, {-440.0, 60.0}, {-420.0, 160.0}};
  const std::vector<double> x{-430, -434, -441, -430, -410}, y{10, 40, 60, 110, 200};
  std::vector<double> seen = x;
  seen.insert(seen.end(), y.begin(), y.end());
  const std::vector<double> wished{-430, -435, -440, -430, -420};  // upright below and above
  REQUIRE(make_gathering(path, 5).results() == 5);
  for (std::size_t i = 0; i < 5; ++i) CHECK(reduced_of(path, seen, 5, i) == within(x[i] - wished[i], 1e-12));
}

TEST_CASE("every reduction: partial derivatives against central differences, packs against plain numbers") {
  std::mt19937_64 random(41);
  std::uniform_real_distribution<double> spread(-40.0, 40.0);
  constexpr int lanes = 8;
  using P = math::Pack<lanes>;
  using Wide = math::Dual<1, P>;
  for (const MeasureRecord& r : measure_table()) {
    Target t = target(r.measure);
    t.crosses = 100.0;
    t.gears = {0, 1};
    t.path = {{90.0, 60.0}, {110.0, 100.0}, {95.0, 150.0}};
    const std::size_t at = r.where == Where::between || r.where == Where::fixed ? 2 : 7;
    const Gathering g = make_gathering(t, at);
    for (int trial = 0; trial < 40; ++trial) {
      std::vector<double> seen(g.seen());
      for (double& x : seen) x = 100.0 + spread(random);
      if (r.reduction == Reduction::spacers) {
        // A leverage, and forces that grow with the spacers: the solution has a pole where two of them are alike.
        for (std::size_t k = 0; k + 2 < g.curves; ++k)
          seen[k * g.places] = 160.0 + 30.0 * static_cast<double>(k) + 0.2 * spread(random);
        seen[g.values() - 1] = 2.0 + 0.01 * spread(random);
      }
      if (g.extent) {
        seen[g.values()] = 5.0;
        seen[g.values() + 1] = 155.0 + spread(random);
      }
      for (std::size_t k = 0; k < g.results(); ++k) {
        INFO(r.key << ", trial " << trial << ", result " << k);
        const auto plain = [&](const std::vector<double>& of) {
          return reduced<double>(g, k, [&](std::size_t i) { return of[i]; });
        };
        for (std::size_t first = 0; first < seen.size(); first += lanes) {
          const Wide wide = reduced<Wide>(g, k, [&](std::size_t i) {
            Wide x = Wide::constant(P(seen[i]));
            if (i >= first && i < first + lanes) math::set_lane(x.d.each[0], i - first, 1.0);
            return x;
          });
          for (std::size_t i = first; i < std::min<std::size_t>(first + lanes, seen.size()); ++i) {
            const double h = 1e-5;
            std::vector<double> up = seen, down = seen;
            up[i] += h;
            down[i] -= h;
            const double difference = (plain(up) - plain(down)) / (2.0 * h);
            // Reductions are smooth but for corners, which random numbers do not meet; the step's own error is below.
            CHECK(math::lane(wide.d[0], i - first) == within(difference, 1e-6 * std::max(1.0, std::abs(difference))));
            CHECK(math::lane(wide.v, i - first) == plain(seen));
          }
        }
      }
    }
    // Lanes that differ get what each alone would.
    std::vector<P> packs(g.seen());
    for (P& x : packs)
      for (int lane = 0; lane < lanes; ++lane) x.set(lane, 100.0 + spread(random));
    for (std::size_t k = 0; k < g.results(); ++k) {
      const P together = reduced<P>(g, k, [&](std::size_t i) { return packs[i]; });
      for (int lane = 0; lane < lanes; ++lane) {
        const double alone = reduced<double>(g, k, [&](std::size_t i) { return packs[i][lane]; });
        const double there = together[lane];
        INFO(r.key << ", lane " << lane);
        CHECK(std::memcmp(&alone, &there, sizeof alone) == 0);
      }
    }
  }
}

TEST_CASE("records stand in order, each key once, with words and a tolerance") {
  const auto table = measure_table();
  for (std::size_t i = 0; i < table.size(); ++i) {
    INFO(table[i].key);
    CHECK(static_cast<std::size_t>(table[i].measure) == i);
    CHECK(find_measure(table[i].key) == &table[i]);
    CHECK(table[i].tolerance > 0.0);
    CHECK(table[i].meaning.ends_with('.'));
    CHECK((!table[i].own_curve || table[i].curve));
  }
  CHECK(find_measure("median") == nullptr);
}
