// Verdicts, score and the figure to search by, on a single pivot whose curves are known in closed form.
#include "objectives/assessor.hpp"

#include <catch2/catch.hpp>

#include "tests/objectives/judged.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using bike::Curve;
using test::Judged;
using test::within;
using Place = Station::Kind;
using Kind = Wish::Kind;

namespace {

const test::SinglePivot pivot;
constexpr double near = 1e-9;  // mm and ratios: closed form and kernel agree to rounding

Target wish(Curve curve, Station at, Kind kind, double lo, double hi, double tolerance = 1.0) {
  Target t;
  t.curve = {curve, -1};
  t.at = at;
  t.wish.kind = kind;
  t.wish.lo = lo;
  t.wish.hi = hi;
  t.tolerance = tolerance;
  return t;
}
Target anything(Curve curve, Station at) {
  return wish(curve, at, Kind::band, -1e6, 1e6);
}
double value_at(Curve curve, Station at, const bike::Layout& layout = pivot.layout()) {
  return Judged(layout, {anything(curve, at)}).verdict().achieved;
}
Target progressivity(Station from, Station to, double lo, double hi) {
  Target t = wish(Curve::leverage, from, Kind::band, lo, hi, 0.01);
  t.measure = Measure::progressivity;
  t.to = to;
  return t;
}

}  // namespace

TEST_CASE("stations of the travel lie where the closed form puts them") {
  const double whole = pivot.whole();
  const auto at_compression = [&](Station station, double c) {
    INFO("compression by hand " << c);
    CHECK(value_at(Curve::shock, station) == within(c, near));
    CHECK(value_at(Curve::travel, station) == within(pivot.travel(c), near));
    CHECK(value_at(Curve::rearward, station) == within(pivot.rearward(c), near));
    CHECK(value_at(Curve::leverage, station) == within(pivot.leverage(c), near));
    CHECK(Judged(pivot.layout(), {anything(Curve::leverage, station)}).verdict().at_travel ==
          within(pivot.travel(c), near));
  };
  at_compression({Place::topped_out, 0.0}, 0.0);
  at_compression({Place::bottomed, 0.0}, pivot.stroke);
  for (double z : {1.0, 60.0, 0.99 * whole}) at_compression({Place::travel, z}, pivot.compression(z));
  for (double f : {0.0, 0.25, 0.5, 1.0}) at_compression({Place::fraction, f}, pivot.compression(f * whole));
}

TEST_CASE("sag is of the wheel or of the shock, as the layout says") {
  bike::Layout layout = pivot.layout();
  for (double fraction : {0.0, 0.18, 0.3, 1.0}) {
    INFO("sag " << fraction);
    layout.sag = {fraction, bike::SagOf::wheel};
    CHECK(value_at(Curve::travel, {Place::sag, 0.0}, layout) == within(fraction * pivot.whole(), near));
    CHECK(value_at(Curve::shock, {Place::sag, 0.0}, layout) ==
          within(pivot.compression(fraction * pivot.whole()), near));
    layout.sag = {fraction, bike::SagOf::shock};
    CHECK(value_at(Curve::shock, {Place::sag, 0.0}, layout) == within(fraction * pivot.stroke, near));
    CHECK(value_at(Curve::travel, {Place::sag, 0.0}, layout) == within(pivot.travel(fraction * pivot.stroke), near));
  }
  // The two differ by millimetres here, so one cannot pass for the other.
  CHECK(std::abs(pivot.travel(0.3 * pivot.stroke) - 0.3 * pivot.whole()) > 1.0);
}

TEST_CASE("progressivity by hand") {
  const double first = pivot.leverage(0.0), last = pivot.leverage(pivot.stroke);
  const Judged whole(pivot.layout(), {progressivity({Place::topped_out, 0.0}, {Place::bottomed, 0.0}, -1, 1)});
  CHECK(whole.verdict().achieved == within((first - last) / first, near));
  CHECK(whole.verdict().at_travel == within(0.0, near));

  const double a = pivot.leverage(pivot.compression(30.0)), b = pivot.leverage(pivot.compression(120.0));
  const Judged part(pivot.layout(), {progressivity({Place::travel, 30.0}, {Place::travel, 120.0}, -1, 1)});
  CHECK(part.verdict().achieved == within((a - b) / a, near));
  CHECK(part.verdict().at_travel == within(30.0, near));
}

TEST_CASE("verdict of every kind of wish at a station") {
  const Station end{Place::bottomed, 0.0};
  const double z = pivot.whole();
  struct Row {
    Kind kind;
    double lo, hi, violation, margin;
  };
  const double tolerance = 0.5;
  const std::vector<Row> rows = {
      {Kind::band, z - 2, z + 2, 0.0, 1.0},      {Kind::band, z - 1, z + 3, 0.0, 0.5},
      {Kind::band, z + 3, z + 7, 3.0, -1.5},     {Kind::band, z - 5, z - 1, 1.0, -0.5},
      {Kind::ceiling, 0, z + 0.25, 0.0, 0.5},    {Kind::ceiling, 0, z + 80, 0.0, 1.0},
      {Kind::ceiling, 0, z - 0.75, 0.75, -1.5},  {Kind::floor, z - 0.25, 0, 0.0, 0.5},
      {Kind::floor, z + 4, 0, 4.0, -8.0},        {Kind::value, z, z, 0.0, 1.0},
      {Kind::value, z + 0.3, z + 0.3, 0.0, 0.4}, {Kind::value, z - 1.5, z - 1.5, 1.0, -2.0},
  };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    INFO("row " << i);
    const Row& row = rows[i];
    const Judged judged(pivot.layout(), {wish(Curve::travel, end, row.kind, row.lo, row.hi, tolerance)});
    CHECK(judged.verdict().achieved == within(z, near));
    CHECK(judged.verdict().at_travel == within(z, near));
    CHECK(judged.verdict().violation == within(row.violation, near));
    CHECK(judged.verdict().margin == within(row.margin, near / tolerance));
    CHECK(judged.verdict().met == (row.violation == 0.0));
    const double r = row.violation / tolerance;
    CHECK(judged.assessment().score == within(r * r, 1e-7));
    CHECK(judged.assessment().margin == within(row.margin, near / tolerance));
  }
}

TEST_CASE("over a stretch the verdict names the place that breaks the wish most, or comes nearest to it") {
  Target t = anything(Curve::leverage, {});
  t.over = Stretch{0.1, 0.9};
  t.tolerance = 0.05;
  const auto leverage_at = [](double fraction) { return pivot.leverage(pivot.compression(fraction * pivot.whole())); };
  const int intervals = 16;  // 0.8 of the 20 places of a whole travel

  // A path that the curve leaves in the middle.
  t.wish.kind = Kind::follow;
  t.wish.path = {{0.1, leverage_at(0.1)}, {0.6, leverage_at(0.6) + 0.15}, {0.9, leverage_at(0.9)}};
  double worst = 0.0, where = 0.0, wished = 0.0, sum = 0.0;
  for (int i = 0; i <= intervals; ++i) {
    const double f = 0.1 + 0.8 * i / intervals;
    const double path = f <= 0.6
                            ? t.wish.path[0].second + (t.wish.path[1].second - t.wish.path[0].second) * (f - 0.1) / 0.5
                            : t.wish.path[1].second + (t.wish.path[2].second - t.wish.path[1].second) * (f - 0.6) / 0.3;
    const double off = std::abs(leverage_at(f) - path);
    sum += std::pow(std::max(0.0, off - t.tolerance) / t.tolerance, 2);
    if (off <= worst) continue;
    worst = off;
    where = f;
    wished = path;
  }
  REQUIRE(worst > t.tolerance);
  const Judged follow(pivot.layout(), {t});
  CHECK(follow.verdict().at_travel == within(where * pivot.whole(), near));
  CHECK(follow.verdict().achieved == within(leverage_at(where), near));
  CHECK(follow.verdict().wished == within(wished, near));
  CHECK(follow.verdict().violation == within(worst - t.tolerance, near));
  CHECK(follow.verdict().margin == within(1.0 - worst / t.tolerance, 1e-7));
  CHECK_FALSE(follow.verdict().met);
  CHECK(follow.assessment().score == within(sum / (intervals + 1), 1e-6));  // mean of the squares

  // The same stretch held under a ceiling that all of it meets: the greatest value is the one reported.
  t.wish = {};
  t.wish.kind = Kind::ceiling;
  t.wish.hi = 10.0;
  t.tolerance = 20.0;
  double greatest = 0.0;
  for (int i = 0; i <= intervals; ++i) greatest = std::max(greatest, leverage_at(0.1 + 0.8 * i / intervals));
  const Judged met(pivot.layout(), {t});
  CHECK(met.verdict().met);
  CHECK(met.verdict().achieved == within(greatest, near));
  CHECK(met.verdict().margin == within((10.0 - greatest) / 20.0, near));
}

TEST_CASE("requirements, score and margin of several targets") {
  const double z = pivot.whole();
  const Station end{Place::bottomed, 0.0};
  Target met = wish(Curve::travel, end, Kind::band, z - 10, z + 10);
  met.must = true;
  Target missed = wish(Curve::travel, end, Kind::ceiling, 0, z - 3.0, 2.0);
  missed.must = true;
  Target light = wish(Curve::travel, end, Kind::floor, z + 1.0, 0, 0.5);
  light.weight = 3.0;

  const Judged judged(pivot.layout(), {met, missed, light});
  const Assessment& a = judged.assessment();
  const int rules = static_cast<int>(a.rules.size());
  CHECK(rules == 3);  // transmission angle, rising wheel, shock length: no packaging asked for
  CHECK(a.musts == 2 + rules);
  CHECK(a.musts_met == 1 + rules);
  CHECK_FALSE(a.feasible());
  CHECK(a.score == within(std::pow(3.0 / 2.0, 2) + 3.0 * std::pow(1.0 / 0.5, 2), 1e-7));
  CHECK(a.margin == within(-2.0, near));

  const Judged fine(pivot.layout(), {met});
  CHECK(fine.assessment().feasible());
  CHECK(fine.assessment().score == 0.0);
  CHECK(Judged(pivot.layout(), {}).assessment().margin == 1.0);
}

TEST_CASE("a squared residual: itself while small, under the limit's however large, with its slope") {
  CHECK(limited_square(-3.0) == 0.0);
  CHECK(limited_square(1e-3) == within(1e-6, 1e-14));
  double last = 0.0;
  for (double r = 0.01; r < 1e4; r *= 2.0) {
    // r/√(1 + (r/limit)²), squared.
    const double limited = r / std::sqrt(1.0 + r * r / (residual_limit * residual_limit));
    const auto square = limited_square(math::Dual<2>::variable(r, 0));
    CHECK(square.v == within(limited * limited, 1e-14 * limited * limited));
    const double slope = 2.0 * std::pow(limited, 4.0) / (r * r * r);
    CHECK(square.d[0] == within(slope, 1e-10 * slope));
    CHECK(square.v >= last);
    last = square.v;
  }
  CHECK(limited_square(1e200) == within(residual_limit * residual_limit, 1e-9));
}

TEST_CASE("the figure to search by, summed by hand") {
  const double z = pivot.whole();
  const Station end{Place::bottomed, 0.0};
  Target must = wish(Curve::travel, end, Kind::ceiling, 0, z - 3.0, 2.0);
  must.must = true;
  Target light = wish(Curve::travel, end, Kind::floor, z + 1.0, 0, 0.5);
  light.weight = 3.0;
  Target hopeless = wish(Curve::travel, end, Kind::floor, z + 1000.0, 0, 1.0);
  const Judged judged(pivot.layout(), {must, light, hopeless});

  // r/√(1 + (r/40)²): near r while r is small, never beyond 40.
  const auto limited = [](double r) { return r / std::sqrt(1.0 + r * r / 1600.0); };
  for (const Emphasis& e : {Emphasis{20.0, 0.0}, Emphasis{2000.0, 0.5}}) {
    const double by_hand = e.must * std::pow(limited(1.5 + e.inset), 2) + 3.0 * std::pow(limited(2.0 + e.inset), 2) +
                           std::pow(limited(1000.0 + e.inset), 2);
    CHECK(judged.figure(e) == within(by_hand, 1e-9 * by_hand));
  }
  CHECK(judged.rules_figure() == 0.0);
}
