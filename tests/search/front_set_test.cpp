// Sets of points: who is outdone, exact hypervolume, spread.
#include "search/front_set.hpp"

#include <catch2/catch.hpp>
#include <random>

using namespace trammel;
using search::FrontPoint;

namespace {

std::vector<FrontPoint> points(const std::vector<std::vector<double>>& figures) {
  std::vector<FrontPoint> out;
  for (const auto& f : figures) out.push_back({{}, f});
  return out;
}

/// The volume between the points and the corner (1, …, 1) by inclusion and exclusion over all subsets.
double by_inclusion(const std::vector<std::vector<double>>& figures) {
  double sum = 0.0;
  for (unsigned subset = 1; subset < 1U << figures.size(); ++subset) {
    double box = -1.0;
    for (std::size_t k = 0; k < figures.front().size(); ++k) {
      double corner = 0.0;
      for (std::size_t i = 0; i < figures.size(); ++i)
        if (subset >> i & 1U) corner = std::max(corner, figures[i][k]);
      box *= 1.0 - corner;
    }
    for (std::size_t i = 0; i < figures.size(); ++i)
      if (subset >> i & 1U) box = -box;
    sum += box;
  }
  return sum;
}

}  // namespace

TEST_CASE("hypervolume by hand") {
  CHECK(search::hypervolume({}, {1, 1}) == 0.0);
  CHECK(search::hypervolume(points({{0, 0}}), {1, 1}) == 1.0);
  CHECK(search::hypervolume(points({{0.5, 0}, {0, 0.5}}), {1, 1}) == 0.75);
  CHECK(search::hypervolume(points({{0.5, 0}, {0.5, 0}, {0.75, 0.25}}), {1, 1}) == 0.5);  // equal, and outdone
  CHECK(search::hypervolume(points({{2, 0}, {0, 1.5}}), {1, 1}) == 0.0);                  // beyond the reference
  CHECK(search::hypervolume(points({{-1, -2}}), {1, 2}) == 8.0);
  CHECK(search::hypervolume(points({{0.5, 0, 0}, {0, 0.5, 0}, {0, 0, 0.5}}), {1, 1, 1}) == 0.875);
}

TEST_CASE("hypervolume is that of inclusion and exclusion, in two and three figures, in any order") {
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> unit(0.0, 1.0);
  for (std::size_t dimension : {2, 3}) {
    for (std::size_t count : {1, 2, 3, 7, 10}) {
      std::vector<std::vector<double>> figures(count, std::vector<double>(dimension));
      for (auto& f : figures)
        for (double& x : f) x = unit(random);
      const double expected = by_inclusion(figures);
      INFO(count << " points of " << dimension << " figures");
      CHECK(search::hypervolume(points(figures), std::vector<double>(dimension, 1.0)) ==
            Approx(expected).margin(1e-12));
      std::reverse(figures.begin(), figures.end());
      CHECK(search::hypervolume(points(figures), std::vector<double>(dimension, 1.0)) ==
            Approx(expected).margin(1e-12));
    }
  }
}

TEST_CASE("the undominated: none outdoes another, and whoever is missing is outdone") {
  const auto kept = search::undominated(points({{3, 1}, {1, 3}, {2, 2}, {2, 2}, {2, 3}, {4, 4}, {1, 3.5}}));
  REQUIRE(kept.size() == 3);
  CHECK(kept[0].figures == std::vector<double>{1, 3});
  CHECK(kept[1].figures == std::vector<double>{2, 2});
  CHECK(kept[2].figures == std::vector<double>{3, 1});
  CHECK(search::undominated({}).empty());
}

TEST_CASE("a front's corners, share of its box and spread") {
  // Three points of a line in a box of 2 by 4: in the box at (0, 1), (1/4, 3/4), (1, 0).
  const search::Front front = search::front_of(points({{10, 24}, {12, 20}, {10.5, 23}, {13, 23}}));
  REQUIRE(front.points.size() == 3);
  CHECK(front.ideal == std::vector<double>{10, 20});
  CHECK(front.worst == std::vector<double>{12, 24});
  CHECK(front.hypervolume == Approx(0.75 * 0.25));
  const double a = std::sqrt(2.0) / 4.0, b = 3.0 * a;
  CHECK(front.spread.least == Approx(a));
  CHECK(front.spread.most == Approx(b));
  CHECK(front.spread.mean == Approx(2.0 * a));
  CHECK(front.spread.deviation == Approx(a));

  const search::Front alone = search::front_of(points({{1, 2}, {1, 2}}));
  CHECK(alone.points.size() == 1);
  CHECK(alone.hypervolume == 0.0);
  CHECK(alone.spread.most == 0.0);
  CHECK(search::front_of({}).points.empty());

  // Of three figures: the nearest other point, in the box.
  const search::Front solid = search::front_of(points({{0, 0, 1}, {0, 1, 0}, {1, 0, 0}}));
  CHECK(solid.spread.least == Approx(std::sqrt(2.0)));
  CHECK(solid.spread.deviation == Approx(0.0).margin(1e-12));
}

TEST_CASE("of points that lie on one spot one is told, the ends always, and no gap opens") {
  const auto at = [](const std::vector<FrontPoint>& front) {
    std::vector<double> out;
    for (const FrontPoint& p : front) out.push_back(p.figures[0]);
    return out;
  };
  const std::vector<double> scale{1.0, 1.0};
  // Along a slope of 45°: distances are √2 times those in the first figure.
  const auto line = [](const std::vector<double>& first) {
    std::vector<std::vector<double>> out;
    for (const double x : first) out.push_back({x, 1.0 - x});
    return points(out);
  };
  using Numbers = std::vector<double>;
  CHECK(at(search::thinned(line({0, 0.001, 0.3, 0.302, 0.6, 0.999, 1}), scale, 0.025, 0.5)) == Numbers{0, 0.3, 0.6, 1});
  // 0.3 and 0.31 are one spot, but without 0.31 the way to 0.62 is too wide.
  CHECK(at(search::thinned(line({0, 0.3, 0.31, 0.62, 1}), scale, 0.025, 0.45)) == Numbers{0, 0.3, 0.31, 0.62, 1});
  CHECK(at(search::thinned(line({0, 0.3, 0.31, 0.62, 1}), scale, 0.025, 0.6)) == Numbers{0, 0.3, 0.62, 1});
  CHECK(at(search::thinned(line({0, 0.001}), scale, 0.025, 0.5)) == Numbers{0, 0.001});
  // A front that hardly spans anything in its scale keeps its ends.
  CHECK(at(search::thinned(line({0, 0.4, 0.7, 1}), {1e3, 1e3}, 0.025, 0.5)) == Numbers{0, 1});
  const auto three = points({{0, 1, 1}, {0.5, 0.5, 0.5}, {0.501, 0.5, 0.499}, {1, 0, 1}, {1, 1, 0}});
  CHECK(search::thinned(three, {1, 1, 1}, 0.025, 0.5).size() == 4);
}
