// Plane distances against Boost.Geometry, and closed forms.
#include "math/distance.hpp"

#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"  // GCC 12 about Boost's own headers
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/geometries.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "math/pack.hpp"
#include "tests/support/close.hpp"

using namespace trammel::math;
using trammel::test::within;
namespace bg = boost::geometry;

namespace {

using P = bg::model::d2::point_xy<double>;
using Line = bg::model::linestring<P>;
using V = Vec2<double>;

P of(V v) {
  return {v.x, v.y};
}
Line of(const Segment<double>& s) {
  return {of(s.from), of(s.to)};
}

struct Random {
  std::mt19937_64 engine{20};
  std::uniform_real_distribution<double> place{-100.0, 100.0};
  V point() {
    const double x = place(engine);
    return {x, place(engine)};
  }
  Segment<double> segment() {
    const V from = point();
    return {from, point()};
  }
};

double distance_to(const V& p, const std::vector<V>& corners) {
  return distance_outside(p, corners.size(), [&](std::size_t i) {
    return Segment<double>{corners[i], corners[(i + 1) % corners.size()]};
  });
}

}  // namespace

TEST_CASE("segments apart and points from segments, as Boost.Geometry has them") {
  Random random;
  int crossing = 0;
  for (int i = 0; i < 2000; ++i) {
    const Segment<double> s = random.segment(), t = random.segment();
    const V p = random.point();
    CHECK(std::sqrt(squared_distance(p, s)) == within(bg::distance(of(p), of(s)), 1e-9));
    const bool crosses = bg::intersects(of(s), of(t));
    CHECK((crossing_depth(s, t) > 0.0) == crosses);
    crossing += crosses ? 1 : 0;
    if (!crosses) CHECK(std::sqrt(squared_distance(s, t)) == within(bg::distance(of(s), of(t)), 1e-9));
  }
  CHECK(crossing > 300);
  CHECK(crossing < 1700);
}

TEST_CASE("how deep segments cross: the shortest move after which Boost.Geometry finds them apart") {
  Random random;
  for (int i = 0, seen = 0; seen < 40; ++i) {
    const Segment<double> s = random.segment(), t = random.segment();
    if (!bg::intersects(of(s), of(t))) continue;
    ++seen;
    const double depth = crossing_depth(s, t);
    double shortest = 1e9;
    for (int k = 0; k < 720; ++k) {
      const double angle = 2.0 * pi * k / 720.0;
      const V way{std::cos(angle), std::sin(angle)};
      double lo = 0.0, hi = 500.0;  // crossing at lo, apart at hi
      for (int half = 0; half < 40; ++half) {
        const double by = 0.5 * (lo + hi);
        (bg::intersects(of({s.from + way * by, s.to + way * by}), of(t)) ? lo : hi) = by;
      }
      shortest = std::min(shortest, hi);
    }
    CHECK(shortest >= depth - 1e-9);
    CHECK(shortest <= depth * 1.0001 + 1e-9);  // the nearest of the directions is off by at most a quarter of a degree
  }
}

TEST_CASE("points and polygons, also with a notch, as Boost.Geometry has them") {
  const std::vector<V> corners{{-60, -50}, {70, -40}, {40, 10}, {80, 60}, {0, 20}, {-70, 70}};
  bg::model::polygon<P, false> polygon;
  for (const V& c : corners) bg::append(polygon.outer(), of(c));
  bg::append(polygon.outer(), of(corners.front()));
  bg::model::linestring<P> border(polygon.outer().begin(), polygon.outer().end());
  REQUIRE(bg::is_valid(polygon));
  Random random;
  int inside = 0;
  for (int i = 0; i < 2000; ++i) {
    const V p = random.point();
    const double border_distance = bg::distance(of(p), border);
    const bool within_polygon = bg::within(of(p), polygon);
    inside += within_polygon ? 1 : 0;
    CHECK(distance_to(p, corners) == within(within_polygon ? -border_distance : border_distance, 1e-9));
  }
  CHECK(inside > 300);
  // At the height of a corner, where a careless count of sides goes wrong.
  CHECK(distance_to({0, 10}, corners) < 0.0);
  CHECK(distance_to({60, 10}, corners) > 0.0);
  CHECK(distance_to({-200, 20}, corners) > 0.0);
}

TEST_CASE("segments of no length, touching and collinear ones stay finite") {
  const V a{3, 4}, origin{0, 0};
  CHECK(std::sqrt(squared_distance(a, Segment<double>{origin, origin})) == within(5.0, 1e-12));
  CHECK(crossing_depth(Segment<double>{origin, origin}, Segment<double>{{-1, 0}, {1, 0}}) == 0.0);
  CHECK(crossing_depth(Segment<double>{{-1, 0}, {1, 0}}, Segment<double>{{0, 0}, {0, 5}}) == 0.0);  // touch
  CHECK(crossing_depth(Segment<double>{{0, 0}, {9, 0}}, Segment<double>{{3, 0}, {5, 0}}) == 0.0);   // on one line
  CHECK(squared_distance(Segment<double>{{0, 0}, {9, 0}}, Segment<double>{{3, 0}, {5, 0}}) == 0.0);
  // A plus sign with arms of 4 and 1: 1 is the way out.
  CHECK(crossing_depth(Segment<double>{{-4, 0}, {4, 0}}, Segment<double>{{0, -3}, {0, 1}}) == within(1.0, 1e-12));
}

TEST_CASE("distances in packs have the digits of plain numbers") {
  Random random;
  using Wide = Pack<4>;
  for (int i = 0; i < 200; ++i) {
    std::vector<Segment<double>> s, t;
    Segment<Wide> wide_s, wide_t;
    for (int lane = 0; lane < 4; ++lane) {
      s.push_back(random.segment());
      t.push_back(random.segment());
      for (auto [wide, plain] : {std::pair(&wide_s, &s.back()), std::pair(&wide_t, &t.back())}) {
        wide->from.x.set(lane, plain->from.x);
        wide->from.y.set(lane, plain->from.y);
        wide->to.x.set(lane, plain->to.x);
        wide->to.y.set(lane, plain->to.y);
      }
    }
    const Wide depth = crossing_depth(wide_s, wide_t), apart = squared_distance(wide_s, wide_t);
    for (int lane = 0; lane < 4; ++lane) {
      const auto n = static_cast<std::size_t>(lane);
      CHECK(depth[lane] == crossing_depth(s[n], t[n]));
      CHECK(apart[lane] == squared_distance(s[n], t[n]));
    }
  }
}
