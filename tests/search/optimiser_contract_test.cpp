// The contract of the optimiser, line by line.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <limits>
#include <set>
#include <thread>

#include "search/optimiser.hpp"
#include "tests/search/optimiser_problems.hpp"

using namespace trammel;
using Catch::Matchers::Contains;
using search::Evaluation;
using search::optimise;
using search::Optimum;
using search::Options;
using search::Problem;
using search::Stop;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

// (x − 0.3)² + … with slopes, and nothing else.
bool bowl(std::span<const double> x, Evaluation& out) {
  out.value = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    out.value += (x[i] - 0.3) * (x[i] - 0.3);
    if (!out.gradient.empty()) out.gradient[i] = 2.0 * (x[i] - 0.3);
  }
  return true;
}

// The bowl with x₀ ≤ 0.1 and x₀ ≥ 0.9: no point meets both, the least violation is 0.4, at x₀ = 0.5.
bool contradiction(std::span<const double> x, Evaluation& out) {
  bowl(x, out);
  out.constraints[0] = x[0] - 0.1;
  out.constraints[1] = 0.9 - x[0];
  if (!out.jacobian.empty()) {
    out.jacobian[0] = 1.0;
    out.jacobian[x.size()] = -1.0;
  }
  return true;
}

Options with(const std::string& algorithm, int evaluations, int n = 2) {
  return {.algorithm = algorithm,
          .evaluations = evaluations,
          .seed = 7,
          .start = std::vector<double>(static_cast<std::size_t>(n), 0.8)};
}

bool same_bytes(const Optimum& a, const Optimum& b) {
  return a.best && b.best && a.best->x.size() == b.best->x.size() &&
         std::memcmp(a.best->x.data(), b.best->x.data(), a.best->x.size() * sizeof(double)) == 0 &&
         std::memcmp(&a.best->value, &b.best->value, sizeof(double)) == 0 && a.evaluations == b.evaluations &&
         a.stop == b.stop && a.footnote == b.footnote;
}

const std::vector<std::string> unconstrained{"LD_LBFGS",
                                             "LD_VAR1",
                                             "LD_VAR2",
                                             "LD_TNEWTON",
                                             "LD_TNEWTON_RESTART",
                                             "LD_TNEWTON_PRECOND",
                                             "LD_TNEWTON_PRECOND_RESTART",
                                             "LD_MMA",
                                             "LD_CCSAQ",
                                             "LD_SLSQP",
                                             "LN_COBYLA",
                                             "LN_BOBYQA",
                                             "LN_NEWUOA",
                                             "LN_NEWUOA_BOUND",
                                             "LN_NELDERMEAD",
                                             "LN_SBPLX",
                                             "LN_PRAXIS",
                                             "GN_DIRECT",
                                             "GN_DIRECT_L",
                                             "GN_DIRECT_L_RAND",
                                             "GN_CRS2_LM",
                                             "GN_ISRES",
                                             "GN_ESCH",
                                             "AUGLAG",
                                             "G_MLSL",
                                             "G_MLSL_LDS"};
const std::vector<std::string> constrained{"LD_SLSQP", "LD_MMA", "LD_CCSAQ", "LN_COBYLA", "GN_ISRES", "AUGLAG"};

}  // namespace

// ---- 1: takes a scaled problem, a start inside, a finite budget; refuses anything else in words
// ----------------------

TEST_CASE("what is outside the contract is refused in words before the model is called", "[optimiser]") {
  int calls = 0;
  const auto model = [&](std::span<const double> x, Evaluation& out) {
    ++calls;
    return bowl(x, out);
  };
  const auto refused = [&](const Problem& problem, const Options& options, const std::string& words) {
    CHECK_THROWS_AS(optimise(problem, options), std::invalid_argument);
    CHECK_THROWS_WITH(optimise(problem, options), Contains(words));
  };
  const Problem good{2, 0, model};
  const auto changed = [](auto change) {
    Options options = with("LD_LBFGS", 100);
    change(options);
    return options;
  };
  refused({0, 0, model}, with("LD_LBFGS", 100, 0), "at least one variable, got 0");
  refused({2, -1, model}, with("LD_LBFGS", 100), "constraints is negative");
  refused({2, 0, nullptr}, with("LD_LBFGS", 100), "no model");
  refused(good, with("LD_LBFGS", 0), "at least one evaluation, got 0");
  refused(good, with("LD_LBFGS", -1), "at least one evaluation, got -1");
  refused(good, with("LD_LBFGS", 100, 3), "3 numbers for 2 variables");
  refused(good, changed([](Options& o) { o.start[1] = 1.0000001; }), "must lie in [0, 1]");
  refused(good, changed([](Options& o) { o.start[0] = -1e-9; }), "must lie in [0, 1]");
  refused(good, changed([](Options& o) { o.start[0] = not_a_number; }), "must lie in [0, 1]");
  refused(good, changed([](Options& o) { o.step_tolerance = -1.0; }), "step tolerance");
  refused(good, changed([](Options& o) { o.violation_tolerance = not_a_number; }), "violation tolerance");
  refused(good, with("LD_LBFGSS", 100), "no method named 'LD_LBFGSS'");
  refused(good, with("", 100), "no method named ''");
  refused(good, with("GN_AGS", 100), "GN_AGS is not compiled");
  refused(good, with("GD_STOGO", 100), "GD_STOGO is not compiled");
  refused(good, with("LD_AUGLAG", 100), "LD_AUGLAG is not supported; AUGLAG is");
  refused(good, with("GN_ORIG_DIRECT_L", 100), "GN_ORIG_DIRECT_L is not supported; GN_DIRECT is");
  refused(good, with("GN_MLSL_LDS", 100), "GN_MLSL_LDS is not supported; G_MLSL is");
  for (const char* name : {"LD_LBFGS", "LN_BOBYQA", "GN_CRS2_LM", "LD_TNEWTON", "G_MLSL", "GN_DIRECT_L"}) {
    refused({2, 3, model}, with(name, 100), "takes no constraints, and the problem has 3");
  }
  CHECK(calls == 0);
}

TEST_CASE("a method that needs more variables than the problem has is refused in words", "[optimiser]") {
  CHECK_THROWS_WITH(optimise({1, 0, bowl}, with("LN_NEWUOA", 100, 1)),
                    Contains("LN_NEWUOA does not take a problem of 1 variables"));
}

TEST_CASE("the same refusal can be asked for beforehand", "[optimiser]") {
  CHECK(search::refusal("LD_LBFGS", 0).empty());
  CHECK_THAT(search::refusal("LD_LBFGS", 1), Contains("takes no constraints"));
  for (const std::string& name : unconstrained) CHECK(search::refusal(name, 0).empty());
  for (const std::string& name : constrained) CHECK(search::refusal(name, 4).empty());
}

TEST_CASE("corners of the box and a single variable are fair starts", "[optimiser]") {
  for (const double corner : {0.0, 1.0}) {
    Options options = with("LD_LBFGS", 100, 1);
    options.start = {corner};
    CHECK(optimise({1, 0, bowl}, options).best->x[0] == Approx(0.3));
  }
}

TEST_CASE("a set cancel token stops the run at the next point", "[optimiser]") {
  std::atomic<bool> cancel = false;
  int calls = 0;
  const Problem problem{2, 0, [&](std::span<const double> x, Evaluation& out) {
                          if (++calls == 5) cancel = true;
                          return bowl(x, out);
                        }};
  Options options = with("GN_CRS2_LM", 10000);
  options.cancel = &cancel;
  const Optimum end = optimise(problem, options);
  CHECK(end.stop == Stop::cancelled);
  CHECK(end.evaluations == 5);
  CHECK(end.best);

  const Optimum never = optimise(problem, options);
  CHECK(never.stop == Stop::cancelled);
  CHECK(never.evaluations == 0);
  CHECK_FALSE(never.best);
}

// ---- 2 and 6: same seed, start and budget give the same bytes, on any thread
// -----------------------------------------

TEST_CASE("equal options give equal bytes on any thread, whatever ran there before", "[optimiser]") {
  for (const std::string& name : unconstrained) {
    CAPTURE(name);
    const Problem problem = test::unit_problem(test::Himmelblau{});
    const Optimum here = optimise(problem, with(name, 150));
    Optimum there, elsewhere;
    std::thread one([&] {
      Options other = with("GN_CRS2_LM", 77);
      other.seed = 99;
      optimise(problem, other);  // leaves that thread's generator in another state
      there = optimise(problem, with(name, 150));
    });
    std::thread two([&] { elsewhere = optimise(problem, with(name, 150)); });
    one.join();
    two.join();
    CHECK(same_bytes(here, there));
    CHECK(same_bytes(here, elsewhere));
  }
}

TEST_CASE("the seed reaches the methods that draw random numbers", "[optimiser]") {
  for (const char* name : {"GN_CRS2_LM", "GN_ISRES", "GN_ESCH", "G_MLSL"}) {
    CAPTURE(name);
    const Problem problem = test::unit_problem(test::Himmelblau{});
    for (const std::uint64_t seed : {std::uint64_t{8}, std::uint64_t{7} | std::uint64_t{1} << 40}) {
      Options other = with(name, 150);
      other.seed = seed;
      CHECK_FALSE(same_bytes(optimise(problem, with(name, 150)), optimise(problem, other)));
    }
  }
}

// ---- 3: the callback never throws, never answers with NaN, calls the model once a point
// ------------------------------

TEST_CASE("what the model throws comes out of optimise as it was", "[optimiser]") {
  struct Mine {
    int number;
  };
  for (const std::string& name : unconstrained) {
    CAPTURE(name);
    int calls = 0;
    const Problem problem{2, 0, [&](std::span<const double> x, Evaluation& out) {
                            if (++calls == 3) throw Mine{42};
                            return bowl(x, out);
                          }};
    try {
      optimise(problem, with(name, 200));
      FAIL("nothing was thrown");
    } catch (const Mine& mine) {
      CHECK(mine.number == 42);
    }
    CHECK(calls == 3);
  }
}

TEST_CASE("the model is called once for each point, within the budget, inside the box", "[optimiser]") {
  const auto count = [](const std::string& name, int constraints) {
    CAPTURE(name);
    std::set<std::vector<double>> points;
    int calls = 0;
    bool inside = true;
    const test::G24 c;
    const Problem inner = test::unit_problem(c);
    const Problem problem{2, constraints, [&](std::span<const double> x, Evaluation& out) {
                            ++calls;
                            points.emplace(x.begin(), x.end());
                            inside =
                                inside && std::all_of(x.begin(), x.end(), [](double t) { return t >= 0 && t <= 1; });
                            return constraints ? inner.evaluate(x, out) : bowl(x, out);
                          }};
    const Optimum end = optimise(problem, with(name, 120));
    CHECK(inside);
    CHECK(end.evaluations <= 120);
    CHECK(calls == end.evaluations + 1);  // and once more for the verdict
    CHECK(points.size() == static_cast<std::size_t>(end.evaluations));
  };
  for (const std::string& name : unconstrained) count(name, 0);
  for (const std::string& name : constrained) count(name, 2);
}

TEST_CASE("slopes are asked for only when the method uses them", "[optimiser]") {
  const auto gradient_size = [](const std::string& name) {
    std::size_t size = 99, jacobian = 99;
    const Problem problem{2, 2, [&](std::span<const double> x, Evaluation& out) {
                            size = out.gradient.size();
                            jacobian = out.jacobian.size();
                            return contradiction(x, out);
                          }};
    optimise(problem, with(name, 20));
    CHECK(jacobian == 2 * size);
    return size;
  };
  CHECK(gradient_size("LD_SLSQP") == 2);
  CHECK(gradient_size("AUGLAG") == 2);
  CHECK(gradient_size("LN_COBYLA") == 0);
}

// ---- 4: own incumbent, own verdict; non-finite numbers end the run as a breakdown
// ------------------------------------

TEST_CASE("numbers of the model that are not finite stop the run and keep the incumbent", "[optimiser]") {
  enum class Spoil { value, infinite, slope, constraint, jacobian, no_answer };
  for (const Spoil spoil :
       {Spoil::value, Spoil::infinite, Spoil::slope, Spoil::constraint, Spoil::jacobian, Spoil::no_answer}) {
    CAPTURE(static_cast<int>(spoil));
    int calls = 0;
    const Problem problem{2, 2, [&](std::span<const double> x, Evaluation& out) {
                            contradiction(x, out);
                            if (++calls != 2) return true;
                            if (spoil == Spoil::value) out.value = not_a_number;
                            if (spoil == Spoil::infinite) out.value = -infinity;
                            if (spoil == Spoil::slope) out.gradient[1] = not_a_number;
                            if (spoil == Spoil::constraint) out.constraints[0] = -infinity;
                            if (spoil == Spoil::jacobian) out.jacobian[3] = not_a_number;
                            return spoil != Spoil::no_answer;
                          }};
    const Optimum end = optimise(problem, with("LD_SLSQP", 100));
    CHECK(end.stop == Stop::breakdown);
    CHECK(end.evaluations == 2);
    REQUIRE(end.best);
    CHECK(end.best->x == std::vector<double>{0.8, 0.8});  // the start was the only sound point
    CHECK(end.best->value == Approx(0.5));
    CHECK(end.best->violation == Approx(0.7));
  }
}

TEST_CASE("a model that breaks down at the start leaves no best point and no NaN", "[optimiser]") {
  for (const std::string& name : unconstrained) {
    CAPTURE(name);
    const Problem problem{2, 0, [](std::span<const double>, Evaluation& out) {
                            out.value = not_a_number;
                            return true;
                          }};
    const Optimum end = optimise(problem, with(name, 100));
    CHECK(end.stop == Stop::breakdown);
    CHECK(end.evaluations == 1);
    CHECK_FALSE(end.best);
  }
}

TEST_CASE("a point that is no number never reaches the model", "[optimiser]") {
  // Slopes of 1e300 overflow inside SLSQP, which then asks for the value at NaN.
  int bad = 0;
  const Problem problem{2, 1, [&](std::span<const double> x, Evaluation& out) {
                          if (!std::all_of(x.begin(), x.end(), [](double t) { return std::isfinite(t); })) ++bad;
                          bowl(x, out);
                          out.constraints[0] = 1e300 * (x[0] - 0.5);
                          out.gradient[0] *= 1e300;
                          out.jacobian[0] = 1e300;
                          out.jacobian[1] = -1e300;
                          return true;
                        }};
  const Optimum end = optimise(problem, with("LD_SLSQP", 100));
  CHECK(bad == 0);
  CHECK(end.stop == Stop::breakdown);
  REQUIRE(end.best);
  CHECK(std::isfinite(end.best->value));
}

TEST_CASE("constraints that contradict each other are reported as violated, whatever the method says", "[optimiser]") {
  for (const std::string& name : constrained) {
    CAPTURE(name);
    const Optimum end = optimise({2, 2, contradiction}, with(name, 400));
    REQUIRE(end.best);
    CHECK_FALSE(end.best->feasible);
    CHECK(end.best->violation >= 0.4 - 1e-12);
    CHECK(end.best->violation == Approx(std::max(end.best->x[0] - 0.1, 0.9 - end.best->x[0])));
  }
}

TEST_CASE("the best point seen is returned, feasible before infeasible, then by value", "[optimiser]") {
  for (const std::string& name : constrained) {
    CAPTURE(name);
    // Feasible where x₀ ≥ 0.5; the bowl's bottom at 0.3 is not.
    std::vector<std::pair<double, double>> feasible;  // value, x₀
    double least_violation = infinity;
    const Problem problem{2, 1, [&](std::span<const double> x, Evaluation& out) {
                            bowl(x, out);
                            out.constraints[0] = 0.5 - x[0];
                            if (!out.jacobian.empty()) out.jacobian[0] = -1.0;
                            if (x[0] >= 0.5 - 1e-8) feasible.emplace_back(out.value, x[0]);
                            least_violation = std::min(least_violation, std::max(0.0, out.constraints[0]));
                            return true;
                          }};
    Options options = with(name, 60);
    options.start = {0.1, 0.9};
    const Optimum end = optimise(problem, options);
    REQUIRE(end.best);
    if (feasible.empty()) {
      CHECK(end.best->violation == least_violation);
    } else {
      CHECK(end.best->feasible);
      CHECK(end.best->value == std::min_element(feasible.begin(), feasible.end())->first);
    }
  }
}

TEST_CASE("the verdict comes from a full re-evaluation", "[optimiser]") {
  // A model with a memory: it lies while the search runs and tells the truth when asked again at the best point.
  int calls = 0;
  const Problem problem{1, 1, [&](std::span<const double>, Evaluation& out) {
                          ++calls;
                          out.value = calls <= 3 ? 1.0 : 2.0;
                          out.constraints[0] = calls <= 3 ? -1.0 : 0.25;
                          return true;
                        }};
  const Optimum end = optimise(problem, with("LN_COBYLA", 3, 1));
  REQUIRE(end.best);
  CHECK(end.best->value == 2.0);
  CHECK(end.best->violation == 0.25);
  CHECK_FALSE(end.best->feasible);
}

TEST_CASE("a method's failure at the limit of rounding keeps the good point", "[optimiser]") {
  Options options = with("LD_SLSQP", 200);
  options.step_tolerance = 0.0;
  const Optimum end = optimise({2, 0, bowl}, options);
  CHECK(end.footnote == "ROUNDOFF_LIMITED");
  CHECK(end.stop == Stop::gave_up);
  REQUIRE(end.best);
  CHECK(end.best->value < 1e-20);
}

// ---- 5: every optimiser has a budget
// -----------------------------------------------------------------------------------

TEST_CASE("the budget binds every method, AUGLAG and MLSL with their inner one too", "[optimiser]") {
  for (const std::string& name : unconstrained) {
    CAPTURE(name);
    Options options = with(name, 7);
    options.step_tolerance = 0.0;
    const Optimum end = optimise(test::unit_problem(test::Rosenbrock{}), options);
    CHECK(end.evaluations <= 7);
    CHECK(end.stop == Stop::budget);
    CHECK(end.best);
  }
}

TEST_CASE("graded failures lead the search back to where the model works", "[optimiser]") {
  // Left of x₀ = 0.6 the model cannot assemble and reports by how much, smoothly; the best working point is on the
  // edge.
  const Problem problem{2, 0, [](std::span<const double> x, Evaluation& out) {
                          bowl(x, out);
                          const double short_by = std::max(0.0, 0.6 - x[0]);
                          out.value += 1e4 * short_by * short_by;
                          out.gradient[0] -= 2e4 * short_by;
                          return true;
                        }};
  Options options = with("LD_LBFGS", 200);
  options.start = {0.05, 0.9};
  const Optimum end = optimise(problem, options);
  CHECK(end.best->x[0] == Approx(0.6).margin(1e-4));
  CHECK(end.best->x[1] == Approx(0.3).margin(1e-6));
}

TEST_CASE("runs to rest go on from the best point as long as one gains, and end with the first that does not") {
  // The bowl is at rest after one run of the method; a second one finds that out, and no third is begun.
  const Problem problem{2, 0, bowl};
  const Options options = with("LD_LBFGS", 100000);
  const Optimum once = optimise(problem, options), rest = search::optimise_to_rest(problem, options);
  REQUIRE(once.best);
  REQUIRE(rest.best);
  CHECK(rest.best->value <= once.best->value);
  CHECK(rest.best->value == Approx(0.0).margin(1e-15));
  CHECK(rest.evaluations > once.evaluations);
  CHECK(rest.evaluations < 1000);
}
