// Fronts of published problems against their known shapes and areas.
#include "search/front.hpp"

#include <algorithm>
#include <atomic>
#include <catch2/catch.hpp>
#include <cstring>
#include <limits>

#include "tests/search/front_problems.hpp"

using namespace trammel;
using search::Front;
using search::FrontPoint;

namespace {

constexpr double resolution = 0.05;

template <class Case>
Front find(double step = resolution, int scattered = 8, std::uint64_t seed = 0) {
  search::FrontOptions options;
  options.resolution = step;
  options.scattered = scattered;
  options.seed = seed;
  return search::find_front(test::front_problem(Case{}), options);
}

using Pair = std::pair<double, double>;

/// The area between many points of a known front and a reference, by a running minimum: no code of the engine's.
double area(std::vector<Pair> known, Pair reference) {
  std::sort(known.begin(), known.end());
  known.emplace_back(reference.first, 0.0);
  double sum = 0.0, least = reference.second;
  for (std::size_t i = 0; i + 1 < known.size() && known[i].first < reference.first; ++i) {
    least = std::min(least, known[i].second);
    sum += (std::min(known[i + 1].first, reference.first) - known[i].first) * (reference.second - least);
  }
  return sum;
}

/// What a front of single points must lack of the whole front's area: at most the rectangles between neighbours.
double between_neighbours(const Front& front) {
  double sum = 0.0;
  for (std::size_t i = 1; i < front.points.size(); ++i) {
    const auto &a = front.points[i - 1].figures, &b = front.points[i].figures;
    sum += (b[0] - a[0]) * (a[1] - b[1]);
  }
  return sum;
}

void check_area(const Front& front, Pair reference, double exact, double slack) {
  const double found = search::hypervolume(front.points, {reference.first, reference.second});
  INFO(front.points.size() << " points, area " << found << " of " << exact);
  CHECK(found <= exact + slack);
  CHECK(found >= exact - between_neighbours(front) - slack);
}

/// Neighbours lie within the resolution, but for those on the edges of `gaps` true gaps.
void check_even(const Front& front, int gaps) {
  int wide = 0;
  for (std::size_t i = 1; i < front.points.size(); ++i) {
    double sum = 0.0;
    for (std::size_t k = 0; k < 2; ++k) {
      const double step =
          (front.points[i].figures[k] - front.points[i - 1].figures[k]) / (front.worst[k] - front.ideal[k]);
      sum += step * step;
    }
    if (std::sqrt(sum) > resolution * 1.01) ++wide;
  }
  CHECK(wide <= gaps);
}

template <int Number>
void check_zdt(double from, int gaps, double exact) {
  const Front front = find<test::Zdt<Number>>();
  REQUIRE(front.points.size() > 15);
  // The optimiser's tolerance on constraints and its share of the figures' range.
  for (const FrontPoint& p : front.points) {
    CHECK(p.figures[0] >= from - 1e-6);
    CHECK(p.figures[1] == Approx(test::Zdt<Number>::front(p.figures[0])).margin(1e-4));
  }
  check_even(front, gaps);
  check_area(front, {1, 1}, exact, 1e-3);
}

}  // namespace

TEST_CASE("ZDT1: a front that bulges towards the ideal; area 2/3", "[front]") {
  check_zdt<1>(0.0, 1, 2.0 / 3.0);
}

TEST_CASE("ZDT2: a hollow front; area 1/3", "[front]") {
  check_zdt<2>(0.0, 0, 1.0 / 3.0);
}

TEST_CASE("ZDT3: a front in five pieces", "[front]") {
  // The pieces' ends as published with the problem.
  const std::vector<Pair> pieces{{0.0, 0.0830015349},
                                 {0.182228780, 0.2577623634},
                                 {0.4093136748, 0.4538821041},
                                 {0.6183967944, 0.6525117038},
                                 {0.8233317983, 0.8518328654}};
  std::vector<Pair> known;
  for (const auto& [from, to] : pieces)
    for (int i = 0; i <= 2000; ++i) {
      const double f1 = from + (to - from) * i / 2000.0;
      known.emplace_back(f1, test::Zdt<3>::front(f1));
    }
  check_zdt<3>(0.0, 4, area(known, {1, 1}));
  const Front front = find<test::Zdt<3>>();
  std::vector<int> on(pieces.size(), 0);
  for (const FrontPoint& p : front.points)
    for (std::size_t i = 0; i < pieces.size(); ++i)
      if (p.figures[0] >= pieces[i].first - 1e-4 && p.figures[0] <= pieces[i].second + 1e-4) ++on[i];
  int total = 0;
  for (const int count : on) {
    CHECK(count >= 3);
    total += count;
  }
  CHECK(total == static_cast<int>(front.points.size()));
}

TEST_CASE("ZDT6: many bottoms, one front; area from the integral of f1 squared", "[front]") {
  const double first = 0.2807753191;
  check_zdt<6>(first, 0, (1.0 - first * first * first) / 3.0);
}

TEST_CASE("TNK: a front along a wavy constraint, in pieces", "[front]") {
  // The least x2 that both constraints allow, over a grid of x1.
  std::vector<Pair> known;
  constexpr int steps = 1500;
  for (int i = 0; i <= steps; ++i) {
    for (int j = 0; j <= steps; ++j) {
      const double x = 1.2 * i / steps, y = 1.2 * j / steps;
      const double wave = 1.0 + 0.1 * std::cos(16.0 * std::atan2(x, y));
      if (x * x + y * y < wave || (x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5) > 0.5) continue;
      known.emplace_back(x, y);
      break;
    }
  }
  const Front front = find<test::Tnk>();
  REQUIRE(front.points.size() > 20);
  check_even(front, 4);
  // The grid of 0.0008 overstates the least x2 by up to a step.
  check_area(front, {1.2, 1.2}, area(known, {1.2, 1.2}), 1.5e-3);
  for (const FrontPoint& p : front.points) {
    const auto outdone = std::any_of(known.begin(), known.end(), [&](const Pair& k) {
      return k.first < p.figures[0] - 1e-3 && k.second < p.figures[1] - 1e-3;
    });
    CHECK_FALSE(outdone);
  }
}

TEST_CASE("OSY: five pieces, each on other constraints", "[front]") {
  // The pieces as Deb gives them (Multi-Objective Optimization using Evolutionary Algorithms, Wiley, 2001, from
  // memory): x4 = x6 = 0, and
  const auto at = [](double x1, double x2, double x3, double x5) {
    std::vector<double> x{x1, x2, x3, 0.0, x5, 0.0}, f(2), g(6);
    std::vector<test::Dual<6>> tx(x.begin(), x.end()), tf(2), tg(6);
    test::Osy::evaluate(tx, tf, tg);
    for (const auto& violation : tg) REQUIRE(violation.v <= 1e-9);
    return Pair(tf[0].v, tf[1].v);
  };
  std::vector<Pair> known;
  for (int i = 0; i <= 4000; ++i) {
    const double s = i / 4000.0;
    known.push_back(at(5.0, 1.0, 1.0 + 4.0 * s, 5.0));
    known.push_back(at(5.0, 1.0, 1.0 + 4.0 * s, 1.0));
    const double x1 = 2.0 + 3.0 * s;
    known.push_back(at(x1, (x1 - 2.0) / 3.0, 1.0, 1.0));
    known.push_back(at(0.0, 2.0, 1.0 + (std::sqrt(3.0) + 2.0 - 1.0) * s, 1.0));
    known.push_back(at(s, 2.0 - s, 1.0, 1.0));
  }
  const Front front = find<test::Osy>();
  REQUIRE(front.points.size() > 20);
  CHECK(front.ideal[0] == Approx(-274.0).margin(0.01));
  CHECK(front.ideal[1] == Approx(4.0).margin(0.01));
  check_even(front, 3);
  const Pair reference{-40.0, 80.0};
  check_area(front, reference, area(known, reference), 1e-3 * 234.0 * 76.0);
}

TEST_CASE("DTLZ2: three objectives, an octant of the sphere", "[front]") {
  double last = 0.0;
  for (double step : {0.2, 0.1, 0.05}) {
    const Front front = find<test::Dtlz2>(step, 2);
    for (const FrontPoint& p : front.points) {
      double norm = 0.0;
      for (const double f : p.figures) norm += f * f;
      CHECK(norm == Approx(1.0).margin(1e-5));
    }
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(front.ideal[k] == Approx(0.0).margin(1e-5));
      CHECK(front.worst[k] == Approx(1.0).margin(1e-5));
    }
    // The whole octant outdoes all of the cube but the ball's eighth.
    const double exact = 1.0 - math::pi / 6.0, found = search::hypervolume(front.points, {1, 1, 1});
    INFO(front.points.size() << " points, volume " << found << " of " << exact);
    CHECK(found < exact);
    CHECK(found > last);
    CHECK(exact - found < 1.2 * step);  // the points' own stairs, as wide as the step
    last = found;
  }
}

TEST_CASE("DTLZ2: the octant's corners, wherever the search starts from", "[front]") {
  // A whole edge of the octant is least in one figure; its two ends are corners of the front.
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    const Front front = find<test::Dtlz2>(0.5, 2, seed);
    INFO("seed " << seed);
    for (std::size_t k = 0; k < 3; ++k) {
      CHECK(front.ideal[k] == Approx(0.0).margin(1e-5));
      CHECK(front.worst[k] == Approx(1.0).margin(1e-5));
    }
  }
}

TEST_CASE("equal arguments, equal bytes; another seed, another way there", "[front]") {
  const Front a = find<test::Tnk>(), b = find<test::Tnk>();
  REQUIRE(a.points.size() == b.points.size());
  CHECK(a.evaluations == b.evaluations);
  for (std::size_t i = 0; i < a.points.size(); ++i) {
    CHECK(std::memcmp(a.points[i].x.data(), b.points[i].x.data(), a.points[i].x.size() * sizeof(double)) == 0);
  }
}

TEST_CASE("nothing feasible: an empty front; a set cancel token: no more than what is there", "[front]") {
  search::FrontProblem problem = test::front_problem(test::Zdt<2>{});
  problem.constraints = 2;
  const auto model = problem.evaluate;
  problem.evaluate = [model](std::span<const double> x, search::FrontEvaluation& out) {
    search::FrontEvaluation figures{out.parts, out.part_slopes, {}, {}};
    model(x, figures);
    out.constraints[0] = x[0] - 0.1;
    out.constraints[1] = 0.9 - x[0];
    if (!out.jacobian.empty()) {
      out.jacobian[0] = 1.0;
      out.jacobian[x.size()] = -1.0;
    }
    return true;
  };
  CHECK(search::find_front(problem, {}).points.empty());

  const std::atomic<bool> set = true;
  search::FrontOptions options;
  options.cancel = &set;
  const Front front = search::find_front(test::front_problem(test::Zdt<2>{}), options);
  CHECK(front.points.empty());
  CHECK(front.evaluations == 0);
}

TEST_CASE("figures that agree leave one point", "[front]") {
  search::FrontProblem problem;
  problem.n = 2;
  problem.figure_of = {0, 0, 1};  // the first figure is the greater of two parts
  problem.evaluate = [](std::span<const double> x, search::FrontEvaluation& out) {
    const double sum = x[0] + x[1];
    const double parts[] = {sum, 0.5 * sum, 3.0 * sum}, slopes[] = {1.0, 0.5, 3.0};
    for (std::size_t i = 0; i < 3; ++i) {
      out.parts[i] = parts[i];
      if (out.part_slopes.empty()) continue;
      out.part_slopes[2 * i] = out.part_slopes[2 * i + 1] = slopes[i];
    }
    return true;
  };
  const Front front = search::find_front(problem, {});
  REQUIRE(front.points.size() == 1);
  CHECK(front.points.front().figures[0] == Approx(0.0).margin(1e-6));
  CHECK(front.points.front().figures[1] == Approx(0.0).margin(1e-6));
}
