#include "search/optimiser.hpp"

#include <nlopt.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <map>
#include <memory>
#include <stdexcept>

namespace trammel::search {
namespace {

using Handle = std::unique_ptr<nlopt_opt_s, decltype(&nlopt_destroy)>;

Handle make(nlopt_algorithm algorithm, int n) {
  return Handle(nlopt_create(algorithm, static_cast<unsigned>(n)), &nlopt_destroy);
}

bool starts_with_any(const std::string& name, std::initializer_list<const char*> beginnings) {
  return std::any_of(beginnings.begin(), beginnings.end(),
                     [&](const char* beginning) { return name.starts_with(beginning); });
}

bool needs_inner(const std::string& name) {
  return name == "AUGLAG" || name.starts_with("G_MLSL");
}

// LN_ and GN_ name the methods that use no slopes.
bool uses_slopes(const std::string& name) {
  return !starts_with_any(name, {"LN_", "GN_"});
}

bool all_finite(std::span<const double> numbers) {
  return std::all_of(numbers.begin(), numbers.end(), [](double x) { return std::isfinite(x); });
}

void demand(bool condition, const std::string& otherwise) {
  if (!condition) throw std::invalid_argument("optimiser: " + otherwise);
}

void check(const Problem& problem, const Options& options) {
  demand(problem.n >= 1, "a problem needs at least one variable, got " + std::to_string(problem.n));
  demand(problem.constraints >= 0, "the number of constraints is negative");
  demand(static_cast<bool>(problem.evaluate), "the problem has no model");
  const std::string refused = refusal(options.algorithm, problem.constraints);
  demand(refused.empty(), refused);
  demand(options.evaluations >= 1,
         "the budget must be at least one evaluation, got " + std::to_string(options.evaluations));
  demand(options.start.size() == static_cast<std::size_t>(problem.n),
         "the start has " + std::to_string(options.start.size()) + " numbers for " + std::to_string(problem.n) +
             " variables");
  for (const double x : options.start) {
    demand(x >= 0.0 && x <= 1.0, "the start must lie in [0, 1], got " + std::to_string(x));
  }
  demand(options.step_tolerance >= 0.0 && std::isfinite(options.step_tolerance), "the step tolerance must be ≥ 0");
  demand(options.violation_tolerance >= 0.0 && std::isfinite(options.violation_tolerance),
         "the violation tolerance must be ≥ 0");
}

/// Below it, and above its inverse, a value is left at its own size.
constexpr double least_size = 1e-12;

/// A share of the value that counts as a gain.
constexpr double least_gain = 1e-9;

// What the model said at one point.
struct Answer {
  double value = 0.0;
  std::vector<double> gradient;
  std::vector<double> constraints;
  std::vector<double> jacobian;
};

// One run: stands between NLopt's separate calls for value, constraints and slopes, and the model that knows them all
// at once. Nothing that NLopt calls may throw or answer with anything but finite numbers.
class Run {
 public:
  Run(const Problem& problem, const Options& options)
      : problem_(problem), options_(options), asked_(static_cast<std::size_t>(problem.n)), blank_(blank()) {}

  Optimum operator()() {
    nlopt_result status = NLOPT_FORCED_STOP;
    if (!cancelled()) status = search();
    if (thrown_) std::rethrow_exception(thrown_);
    demand(status != NLOPT_INVALID_ARGS,
           options_.algorithm + " does not take a problem of " + std::to_string(problem_.n) + " variables");
    optimum_.footnote = nlopt_result_to_string(status);
    optimum_.stop = stopped_ ? *stopped_ : reason(status);
    if (optimum_.best) judge();
    return std::move(optimum_);
  }

 private:
  Answer blank() const {
    const std::size_t slopes = uses_slopes(options_.algorithm) ? asked_.size() : 0;
    const auto constraints = static_cast<std::size_t>(problem_.constraints);
    return {0.0, std::vector<double>(slopes), std::vector<double>(constraints),
            std::vector<double>(slopes * constraints)};
  }

  nlopt_result search() {
    const Handle outer = make(nlopt_algorithm_from_string(options_.algorithm.c_str()), problem_.n);
    if (!outer) throw std::bad_alloc();
    opt_ = outer.get();
    set_limits(opt_);
    nlopt_set_min_objective(opt_, &Run::value_at, this);
    if (problem_.constraints > 0) {
      const std::vector<double> tolerances(blank_.constraints.size(), options_.violation_tolerance);
      nlopt_add_inequality_mconstraint(opt_, static_cast<unsigned>(problem_.constraints), &Run::constraints_at, this,
                                       tolerances.data());
    }
    if (needs_inner(options_.algorithm)) {
      const Handle inner = make(NLOPT_LD_LBFGS, problem_.n);
      if (!inner) throw std::bad_alloc();
      set_limits(inner.get());
      nlopt_set_local_optimizer(opt_, inner.get());  // copies it
    }
    // The generator is one a thread and takes 32 bits.
    nlopt_srand(static_cast<unsigned long>((options_.seed ^ (options_.seed >> 32)) & 0xffffffffU));
    std::vector<double> x = options_.start;
    if (problem_.constraints > 0) set_scale(x);
    if (stopped_ || thrown_) return NLOPT_FORCED_STOP;
    double ignored = 0.0;
    const nlopt_result status = nlopt_optimize(opt_, x.data(), &ignored);
    opt_ = nullptr;
    return status;
  }

  void set_limits(nlopt_opt opt) const {
    nlopt_set_lower_bounds1(opt, 0.0);
    nlopt_set_upper_bounds1(opt, 1.0);
    nlopt_set_maxeval(opt, options_.evaluations);
    nlopt_set_xtol_abs1(opt, options_.step_tolerance);
  }

  /// Methods weigh the value against constraints as if both were of one size, so they see a value whose greatest slope
  /// at the start (its size, where slopes are not asked for) is between 1 and 2: a power of two, so that no digit
  /// changes.
  void set_scale(const std::vector<double>& start) {
    const Answer& first = visit(start.data());
    double size = first.gradient.empty() ? std::abs(first.value) : 0.0;
    for (const double slope : first.gradient) size = std::max(size, std::abs(slope));
    if (size > least_size && size < 1.0 / least_size) scale_ = std::ldexp(1.0, -std::ilogb(size));
  }

  static double value_at(unsigned, const double* x, double* gradient, void* self) {
    Run& run = *static_cast<Run*>(self);
    const Answer& answer = run.visit(x);
    if (gradient)
      std::transform(answer.gradient.begin(), answer.gradient.end(), gradient,
                     [&](double slope) { return slope * run.scale_; });
    return answer.value * run.scale_;
  }

  static void constraints_at(unsigned, double* result, unsigned, const double* x, double* jacobian, void* self) {
    const Answer& answer = static_cast<Run*>(self)->visit(x);
    std::copy(answer.constraints.begin(), answer.constraints.end(), result);
    if (jacobian) std::copy(answer.jacobian.begin(), answer.jacobian.end(), jacobian);
  }

  // The answer at `x`, from memory if it was asked before. After a stop it is a blank one: NLopt leaves at its next
  // look at the stop flag and its own idea of the best point is not used.
  const Answer& visit(const double* x) noexcept {
    if (stopped_ || thrown_) return blank_;
    try {
      // Rounding takes some methods a hair outside the box.
      std::transform(x, x + asked_.size(), asked_.begin(), [](double t) { return std::clamp(t, 0.0, 1.0); });
      if (!all_finite(asked_)) return stop(Stop::breakdown);
      if (const auto known = answers_.find(asked_); known != answers_.end()) return known->second;
      if (cancelled()) return stop(Stop::cancelled);
      if (optimum_.evaluations == options_.evaluations) return stop(Stop::budget);
      ++optimum_.evaluations;
      Answer answer = blank_;
      if (!evaluate(asked_, answer)) return stop(Stop::breakdown);
      consider(asked_, answer);
      return answers_.emplace(asked_, std::move(answer)).first->second;
    } catch (...) {
      thrown_ = std::current_exception();
      nlopt_force_stop(opt_);
      return blank_;
    }
  }

  // False when the model breaks down at x.
  bool evaluate(const std::vector<double>& x, Answer& answer) const {
    Evaluation out{0.0, answer.gradient, answer.constraints, answer.jacobian};
    const bool answered = problem_.evaluate(x, out);
    answer.value = out.value;
    return answered && std::isfinite(answer.value) && all_finite(answer.gradient) && all_finite(answer.constraints) &&
           all_finite(answer.jacobian);
  }

  Incumbent incumbent(const std::vector<double>& x, const Answer& answer) const {
    double violation = 0.0;
    for (const double g : answer.constraints) violation = std::max(violation, g);
    return {x, answer.value, violation, violation <= options_.violation_tolerance};
  }

  void consider(const std::vector<double>& x, const Answer& answer) {
    Incumbent seen = incumbent(x, answer);
    const std::optional<Incumbent>& best = optimum_.best;
    const bool better = !best || (seen.feasible != best->feasible ? seen.feasible
                                  : seen.feasible                 ? seen.value < best->value
                                                                  : seen.violation < best->violation);
    if (better) optimum_.best = std::move(seen);
  }

  // The verdict on the best point, from the model alone.
  void judge() {
    const std::vector<double> x = optimum_.best->x;
    Answer answer = blank_;
    optimum_.best.reset();
    if (evaluate(x, answer)) {
      optimum_.best = incumbent(x, answer);
    } else {
      optimum_.stop = Stop::breakdown;
    }
  }

  bool cancelled() {
    const bool set = options_.cancel && options_.cancel->load(std::memory_order_relaxed);
    if (set) stopped_ = Stop::cancelled;
    return set;
  }

  const Answer& stop(Stop why) {
    stopped_ = why;
    nlopt_force_stop(opt_);
    return blank_;
  }

  static Stop reason(nlopt_result status) {
    if (status == NLOPT_MAXEVAL_REACHED) return Stop::budget;
    return status > 0 ? Stop::converged : Stop::gave_up;
  }

  const Problem& problem_;
  const Options& options_;
  nlopt_opt opt_ = nullptr;
  double scale_ = 1.0;
  std::vector<double> asked_;
  const Answer blank_;
  std::map<std::vector<double>, Answer> answers_;
  std::optional<Stop> stopped_;
  std::exception_ptr thrown_;
  Optimum optimum_;
};

/// More than rounding would give.
bool gains(const Incumbent& now, const Incumbent& before) {
  if (now.feasible != before.feasible) return now.feasible;
  const double a = now.feasible ? now.value : now.violation, b = now.feasible ? before.value : before.violation;
  return a < b - least_gain * std::max(std::abs(a), std::abs(b));
}

/// The library's own look-up gives a value that its type does not have where there is no such method.
std::optional<nlopt_algorithm> named(const std::string& algorithm) {
  for (int i = 0; i < NLOPT_NUM_ALGORITHMS; ++i)
    if (const auto one = static_cast<nlopt_algorithm>(i); algorithm == nlopt_algorithm_to_string(one)) return one;
  return std::nullopt;
}

}  // namespace

std::string refusal(const std::string& algorithm, int constraints) {
  const std::optional<nlopt_algorithm> known = named(algorithm);
  if (!known) return "there is no method named '" + algorithm + "'";
  if (std::string(nlopt_algorithm_name(*known)).find("NOT COMPILED") != std::string::npos) {
    return algorithm + " is not compiled into the installed library";
  }
  // These bring an inner method of their own choice and limits, or treat only equalities apart.
  if (starts_with_any(algorithm, {"LN_AUGLAG", "LD_AUGLAG", "AUGLAG_EQ"})) {
    return algorithm + " is not supported; AUGLAG is";
  }
  if (starts_with_any(algorithm, {"GN_MLSL", "GD_MLSL"})) return algorithm + " is not supported; G_MLSL is";
  // Stopped at its first point, it reads memory that it never set.
  if (starts_with_any(algorithm, {"GN_ORIG_DIRECT"})) return algorithm + " is not supported; GN_DIRECT is";
  if (constraints > 0) {
    const Handle trial = make(*known, 1);
    const double tolerance = 0.0;
    const auto none = [](unsigned, double*, unsigned, const double*, double*, void*) {};
    if (!trial || nlopt_add_inequality_mconstraint(trial.get(), 1, none, nullptr, &tolerance) < 0) {
      return algorithm + " takes no constraints, and the problem has " + std::to_string(constraints);
    }
  }
  return {};
}

Optimum optimise(const Problem& problem, const Options& options) {
  check(problem, options);
  return Run(problem, options)();
}

Optimum optimise_to_rest(const Problem& problem, Options options) {
  Optimum rest = optimise(problem, options);
  const int budget = options.evaluations;
  while (rest.best && rest.evaluations < budget && rest.stop != Stop::cancelled) {
    options.start = rest.best->x;
    options.evaluations = budget - rest.evaluations;
    Optimum next = optimise(problem, options);
    next.evaluations += rest.evaluations;
    const bool better = next.best && gains(*next.best, *rest.best);
    if (!better) next.best = std::move(rest.best);
    rest = std::move(next);
    if (!better) break;
  }
  return rest;
}

}  // namespace trammel::search
