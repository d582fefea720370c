// The optimiser on published problems with known optima.
#include <algorithm>
#include <catch2/catch.hpp>

#include "search/optimiser.hpp"
#include "search/stream.hpp"
#include "tests/search/optimiser_problems.hpp"

using namespace trammel;
using search::Optimum;
using search::Options;

namespace {

// Starts spread over the box by the stream, one run each; the best feasible end counts, as in a study.
template <class Case>
Optimum best_of(const Case& c, const std::string& algorithm, int runs, std::uint64_t seed = 1) {
  Optimum best;
  for (int run = 0; run < runs; ++run) {
    const search::Stream stream(seed, static_cast<std::uint64_t>(run), search::Purpose::optimiser);
    Options options{.algorithm = algorithm, .evaluations = 500, .start = {}};
    for (std::uint32_t i = 0; i < Case::n; ++i) options.start.push_back(stream.uniform(i));
    const Optimum end = search::optimise_to_rest(test::unit_problem(c), options);
    REQUIRE(end.best);
    REQUIRE(end.evaluations <= 500);
    const bool better =
        !best.best || (end.best->feasible && (!best.best->feasible || end.best->value < best.best->value));
    if (better) best = end;
  }
  return best;
}

template <class Case>
void check_formula(const Case& c) {
  std::vector<double> g(Case::constraints);
  const double f = Case::evaluate(c.best, g);
  CHECK(f == Approx(Case::value).epsilon(1e-8));
  for (const double violation : g) CHECK(violation <= 2e-5 * std::max(1.0, std::abs(f) / 100.0));  // x* has 6+ digits
}

}  // namespace

TEMPLATE_TEST_CASE("the formulas give the published value at the published point", "[optimiser]", test::G6, test::G7,
                   test::G8, test::G9, test::G10, test::G12, test::G24) {
  check_formula(TestType{});
}

TEMPLATE_TEST_CASE("SLSQP finds the published constrained optimum, feasible by our own verdict", "[optimiser]",
                   test::G6, test::G7, test::G8, test::G9, test::G10, test::G12, test::G24) {
  const TestType c;
  const Optimum end = best_of(c, "LD_SLSQP", 30);
  REQUIRE(end.best->feasible);
  CHECK(end.best->violation <= 1e-8);
  // The method may come to rest a hair outside a constraint; the best point that is feasible to 1e-8 then costs a
  // little more: 6e-8 of the value on G7, under 1e-8 on the others.
  CHECK(end.best->value == Approx(TestType::value).epsilon(1e-7));
  const std::vector<double> x = test::unscale(c, end.best->x);
  // A flat valley lets x wander by the root of the value's tolerance.
  for (std::size_t i = 0; i < x.size(); ++i) CHECK(x[i] == Approx(c.best[i]).epsilon(1e-4).margin(1e-4));
}

namespace {

/// Of 20 seeds, how many reach the published value, feasible to 1e-8, to 1e-6 of it, in so many starts.
template <class Case>
int reached(const std::string& algorithm, int starts) {
  int count = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Optimum end = best_of(Case{}, algorithm, starts, seed);
    if (end.best->feasible && end.best->value <= Case::value + 1e-6 * std::abs(Case::value)) ++count;
  }
  return count;
}

}  // namespace

TEST_CASE("how many of 20 seeds reach the published optimum, with 1, 10 and 30 starts", "[optimiser][seeds]") {
  struct Row {
    const char* name;
    int (*reached)(const std::string&, int);
    int counts[3];
  };
  // Deterministic: the same seeds give the same bytes. docs/search.md shows this table.
  const Row rows[] = {
      {"G6", reached<test::G6>, {20, 20, 20}},   {"G7", reached<test::G7>, {20, 20, 20}},
      {"G8", reached<test::G8>, {1, 11, 19}},    {"G9", reached<test::G9>, {20, 20, 20}},
      {"G10", reached<test::G10>, {20, 20, 20}}, {"G12", reached<test::G12>, {13, 20, 20}},
      {"G24", reached<test::G24>, {7, 20, 20}},
  };
  const int starts[] = {1, 10, 30};
  for (const Row& row : rows) {
    for (std::size_t i = 0; i < 3; ++i) {
      INFO(row.name << " with " << starts[i] << " starts");
      CHECK(row.reached("LD_SLSQP", starts[i]) == row.counts[i]);
    }
  }
}

TEST_CASE("L-BFGS finds the bottom of the sphere", "[optimiser]") {
  const Optimum end = best_of(test::Sphere{}, "LD_LBFGS", 1);
  CHECK(end.best->value < 1e-14);
  CHECK(end.best->feasible);
}

TEST_CASE("L-BFGS follows Rosenbrock's valley from the customary start", "[optimiser]") {
  // Rosenbrock, "An automatic method for finding the greatest or least value of a function", Comput. J. 3 (1960):
  // start (−1.2, 1), minimum 0 at (1, 1) (from memory).
  const test::Rosenbrock c;
  const Options options{.algorithm = "LD_LBFGS", .evaluations = 500, .start = {0.2, 0.6}};
  REQUIRE(test::unscale(c, options.start)[0] == Approx(-1.2));
  REQUIRE(test::unscale(c, options.start)[1] == Approx(1.0));
  const Optimum end = search::optimise(test::unit_problem(c), options);
  CHECK(end.best->value < 1e-12);
  CHECK(test::unscale(c, end.best->x)[0] == Approx(1.0).epsilon(1e-5));
  CHECK(end.evaluations < 200);
}

TEST_CASE("L-BFGS reaches each of Himmelblau's four minima from near by", "[optimiser]") {
  // Himmelblau, Applied Nonlinear Programming (McGraw-Hill, 1972); the minima to six digits, from memory.
  const test::Himmelblau c;
  const std::vector<std::vector<double>> minima{
      {3, 2}, {-2.805118, 3.131312}, {-3.779310, -3.283186}, {3.584428, -1.848127}};
  for (const std::vector<double>& minimum : minima) {
    Options options{.algorithm = "LD_LBFGS", .evaluations = 300, .start = {}};
    for (const double x : minimum) options.start.push_back((x + 6.0) / 12.0 + 0.03);
    const Optimum end = search::optimise(test::unit_problem(c), options);
    CHECK(end.best->value < 1e-12);
    const std::vector<double> x = test::unscale(c, end.best->x);
    CHECK(x[0] == Approx(minimum[0]).margin(1e-5));
    CHECK(x[1] == Approx(minimum[1]).margin(1e-5));
  }
}

TEST_CASE("AUGLAG with its inner optimiser finds G24", "[optimiser]") {
  // A penalty method closes in on the constraint from outside: feasible to the tolerance it is given, no closer.
  const Optimum end = best_of(test::G24{}, "AUGLAG", 30);
  REQUIRE(end.best->feasible);
  CHECK(end.best->value == Approx(test::G24::value).epsilon(1e-6));
}
