// Many starts, refinement and the count of solutions on two problems whose real solutions have been counted by others.
//
// Five points, ground pivots given: Morgan & Wampler, "Solving a planar four-bar design using continuation", ASME J.
// Mech. Design 112 (1990) 544–550, problem 7: 15 real solutions. Nine points: Wampler, Morgan & Sommese, "Complete
// solution of the nine-point path synthesis problem for four-bar linkages", ASME J. Mech. Design 114 (1992) 153–159,
// problem 3: 192 different real linkages, three cognates of each of 64 (citations from memory; the counts and points as
// in the data that go with the certified solutions of ACM TOMS algorithm 921 and with PHCpack).
#include <algorithm>
#include <catch2/catch.hpp>
#include <complex>

#include "search/apart.hpp"
#include "search/encounters.hpp"
#include "search/stream.hpp"
#include "tests/search/path_problems.hpp"

using namespace trammel;
using search::Apart;
using search::Encounters;
using test::Spot;
using Design = std::vector<double>;
using Complex = std::complex<double>;

namespace {

struct FivePoints {
  static constexpr int n = 4;
  std::vector<Spot<double>> points{{0.5, 1.06}, {-0.83, -0.27}, {-0.34, 0.22}, {-0.13, 0.43}, {0.22, 0.78}};
  double middle_x = 0.0, middle_y = 0.5, size = 1.0;
  template <class T>
  static std::array<Spot<T>, 4> pivots(const std::vector<T>& p) {
    return {Spot<T>{T(0.0), T(0.0)}, Spot<T>{T(1.0), T(0.0)}, Spot<T>{p[0], p[1]}, Spot<T>{p[2], p[3]}};
  }
};

struct NinePoints {
  static constexpr int n = 8;
  std::vector<Spot<double>> points{{0.25, 0},    {0.52, 0.10}, {0.80, 0.70}, {1.20, 1.00}, {1.40, 1.30},
                                   {1.10, 1.48}, {0.70, 1.40}, {0.20, 1.00}, {0.02, 0.40}};
  double middle_x = 0.7, middle_y = 0.7, size = 0.45;
  template <class T>
  static std::array<Spot<T>, 4> pivots(const std::vector<T>& p) {
    return {Spot<T>{p[0], p[1]}, Spot<T>{p[2], p[3]}, Spot<T>{p[4], p[5]}, Spot<T>{p[6], p[7]}};
  }
};

/// Coordinates from the unit box, x and y in turn.
template <class Case, class T>
std::vector<T> coordinates(const Case& c, const std::vector<T>& u) {
  std::vector<T> p;
  for (std::size_t i = 0; i < u.size(); ++i)
    p.push_back(test::stretched(u[i], i % 2 == 0 ? c.middle_x : c.middle_y, c.size));
  return p;
}

template <class Case>
double misfit(const Case& c, const Design& p) {
  return test::path_misfit(c.points, Case::pivots(p));
}

template <class Case>
search::Problem problem(const Case& c) {
  return {Case::n, 0, [c](std::span<const double> u, search::Evaluation& out) {
            std::vector<test::Dual<8>> x;
            for (std::size_t i = 0; i < u.size(); ++i) x.push_back(test::Dual<8>::variable(u[i], static_cast<int>(i)));
            const auto sum = test::path_misfit(c.points, Case::pivots(coordinates(c, x)));
            out.value = sum.v;
            for (std::size_t i = 0; i < out.gradient.size(); ++i) out.gradient[i] = sum.d[i];
            return true;
          }};
}

/// A linkage, and not a point that follows any path because two pivots of a link are one, nor two pivots on their way
/// to infinity, where the misfit vanishes without a solution.
template <class Case>
bool sound(const Case& c, const Design& p) {
  const auto [a, b, x, y] = Case::pivots(p);
  const auto far = [](const Spot<double>& s, const Spot<double>& t) { return std::hypot(s.x - t.x, s.y - t.y) > 1e-3; };
  if (std::any_of(p.begin(), p.end(), [](double v) { return std::abs(v) > 100.0; })) return false;
  return far(a, x) && far(b, y) && far(x, y) && far(x, c.points[0]) && far(y, c.points[0]);
}

/// Runs starts from the stream; `found` receives each solution.
template <class Case, class Take>
void search_from(const Case& c, int starts, Encounters& encounters, Take found) {
  for (int start = 0; start < starts; ++start) {
    const search::Stream stream(1, static_cast<std::uint64_t>(start), search::Purpose::optimiser);
    search::Options options{.algorithm = "LD_LBFGS", .evaluations = 400, .start = {}, .step_tolerance = 1e-14};
    for (std::uint32_t i = 0; i < Case::n; ++i) options.start.push_back(stream.uniform(i));
    const search::Optimum end = search::optimise(problem(c), options);
    const bool solved = end.best && end.best->value < 1e-16 && sound(c, coordinates(c, end.best->x));
    if (solved)
      found(coordinates(c, end.best->x));
    else
      encounters.add_fruitless(1);
  }
}

/// The two other linkages whose coupler point draws the same path (the theorem of Roberts and Chebyshev).
std::vector<Design> cognates(const NinePoints& c, const Design& p) {
  const Complex a(p[0], p[1]), b(p[2], p[3]), x(p[4], p[5]), y(p[6], p[7]), tip(c.points[0].x, c.points[0].y);
  const Complex third = a + (b - a) * (tip - x) / (y - x);
  const auto other = [&](Complex fixed, Complex moving, Complex opposite) {
    const Complex near = fixed + tip - moving, far = near + (moving - fixed) * (tip - moving) / (opposite - moving);
    return Design{fixed.real(), fixed.imag(), third.real(), third.imag(),
                  near.real(),  near.imag(),  far.real(),   far.imag()};
  };
  return {other(a, x, y), other(b, y, x)};
}

/// The same linkage whichever dyad is named first; as a point of a box, in which far pivots are brought near.
Design ordered(Design p) {
  if (std::pair(p[0], p[1]) > std::pair(p[2], p[3])) {
    std::swap_ranges(p.begin(), p.begin() + 2, p.begin() + 2);
    std::swap_ranges(p.begin() + 4, p.begin() + 6, p.begin() + 6);
  }
  for (double& v : p) v = 0.5 + 0.5 * (v - 0.7) / (1.0 + std::abs(v - 0.7));
  return p;
}

constexpr double same_linkage = 1e-4;  // far above what the misfit allows, far below what keeps solutions apart

}  // namespace

TEST_CASE("a solution read from the literature draws its points", "[known]") {
  // Computed to eight digits by Newton's method from other starts.
  CHECK(misfit(NinePoints{}, {0.37694743, 0.68386795, 0.76530391, 0.52580808, 0.79536813, 0.53873235, 0.34535575,
                              0.58920673}) < 1e-10);
  CHECK(misfit(FivePoints{}, {0.519336, 0.122243, 1.722267, -0.022851}) < 1e-8);
  CHECK(misfit(FivePoints{}, {0.519336, 0.122243, 1.722267, -0.122851}) > 1e-4);
}

TEST_CASE("five points: all 15 real solutions", "[known]") {
  // To six digits, by Newton's method from many starts; as many as the source counts.
  const std::vector<Design> known{
      {-10.592616, 1.510864, 0.103793, 0.018272}, {-1.291787, 2.106132, -0.964863, 2.276763},
      {-0.585685, 0.707002, 0.819028, 1.747883},  {-0.095729, 0.442989, 0.618171, -0.769393},
      {0.141242, 0.522770, 0.587060, 2.614347},   {0.235359, 0.363088, 0.870369, -0.482212},
      {0.341923, 0.266217, -0.048762, 1.338117},  {0.345302, 0.247374, 3.801457, -1.258603},
      {0.412204, 0.208613, 0.735837, -0.358992},  {0.419843, 0.204725, 0.202678, -1.124144},
      {0.519336, 0.122243, 1.722267, -0.022851},  {0.630644, 0.117484, 1.463730, 0.044224},
      {1.176179, 0.446349, 0.856056, 1.370795},   {1.973921, -0.651285, -0.154680, 1.088907},
      {14.765307, -5.455765, -0.121791, 0.988606}};
  const FivePoints c;
  Apart apart(1e-5);
  Encounters encounters;
  std::vector<int> met(known.size(), 0);
  search_from(c, 3000, encounters, [&](const Design& p) {
    int matches = 0;
    for (std::size_t k = 0; k < known.size(); ++k) {
      bool same = true;
      for (std::size_t i = 0; i < p.size(); ++i)
        same = same && std::abs(p[i] - known[k][i]) < 2e-5 * (1.0 + std::abs(p[i]));
      if (!same) continue;
      ++matches;
      ++met[k];
    }
    CHECK(matches == 1);
    Design box = p;
    for (double& v : box) v = 0.5 + 0.5 * v / (1.0 + std::abs(v));
    encounters.add(apart.add(box));
  });
  CHECK(std::count(met.begin(), met.end(), 0) == 0);
  CHECK(encounters.found() == 15);
  CHECK(encounters.refinements() == 3000);
  CHECK(encounters.unseen() < 0.002);
}

TEST_CASE("nine points: how many of the 192 linkages", "[known]") {
  const NinePoints c;
  Apart own(same_linkage), with_cognates(same_linkage);
  Encounters encounters;
  std::vector<Design> found;
  search_from(c, 10000, encounters, [&](const Design& p) {
    const std::size_t before = own.count();
    encounters.add(own.add(ordered(p)));
    if (own.count() > before) found.push_back(p);
  });
  for (const Design& p : found) {
    with_cognates.add(ordered(p));
    for (const Design& cognate : cognates(c, p)) {
      CHECK(misfit(c, cognate) < 1e-8);
      with_cognates.add(ordered(cognate));
    }
  }
  // Deterministic; docs/search.md says what many more starts find.
  CHECK(encounters.found() == 60);
  CHECK(with_cognates.count() == 129);
  CHECK(encounters.once() < 30);
}
