// The one door to NLopt: a model on the unit box in, the best point that was seen out.
//
// NLopt's own word on how a run ended is a footnote here. Several of its methods report success on constraints that
// contradict each other, return the last point rather than the best, or call the model outside the numbers; so the
// best point, its value and whether it is feasible are kept and judged on this side.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace trammel::search {

/// What a model writes at a point. The spans are sized by the optimiser and hold zeros.
struct Evaluation {
  double value = 0.0;
  std::span<double> gradient;     ///< n slopes of the value; empty when the method uses none
  std::span<double> constraints;  ///< one an inequality, met when ≤ 0
  std::span<double> jacobian;     ///< row-major, a row of n slopes a constraint; empty when the method uses none
};

/// A problem scaled to the unit box: minimise the value over [0, 1]ⁿ with every constraint ≤ 0.
struct Problem {
  int n = 0;            ///< variables, ≥ 1, all of them free
  int constraints = 0;  ///< inequalities, ≥ 0
  /// Fills `out` at `x`, which is finite and inside the box; false = the model breaks down there. It is called once
  /// for each point (answers are remembered for the run), and what it throws comes out of `optimise`. A layout that
  /// fails should grade its failure (how far it is from assembling) and return true: a method built on models of the
  /// function is misled by a cliff.
  std::function<bool(std::span<const double> x, Evaluation& out)> evaluate;
};

struct Options {
  std::string algorithm = "LD_LBFGS";         ///< NLopt's own name of the method
  int evaluations = 0;                        ///< budget, ≥ 1: the most points at which the search calls the model
  std::uint64_t seed = 0;                     ///< of the method's random numbers, if it uses any
  const std::atomic<bool>* cancel = nullptr;  ///< once it reads true, the run stops at the next point
  std::vector<double> start;                  ///< n numbers in [0, 1]
  double step_tolerance = 1e-9;               ///< ≥ 0: the run ends when every variable moves by less than this
  double violation_tolerance = 1e-8;          ///< ≥ 0: a point is feasible when no constraint exceeds this
};

enum class Stop {
  converged,  ///< the method found no more to gain
  budget,     ///< the evaluations were used up
  cancelled,  ///< the cancel token was set
  breakdown,  ///< the method asked for a point that is no number, or the model returned none
  gave_up,    ///< the method ended with a failure of its own, for example at the limit of rounding
};

struct Incumbent {
  std::vector<double> x;   ///< in [0, 1]ⁿ
  double value = 0.0;      ///< of the model at x
  double violation = 0.0;  ///< greatest amount by which a constraint at x exceeds 0; 0 when all are met
  bool feasible = false;   ///< violation ≤ the tolerance
};

struct Optimum {
  /// The best point seen, feasible before infeasible, then by value, or by violation among infeasible ones; ties go
  /// to the earlier. Value and verdict come from evaluating it once more in full. Absent when no point was evaluated.
  std::optional<Incumbent> best;
  int evaluations = 0;  ///< points at which the search called the model
  Stop stop = Stop::converged;
  std::string footnote;  ///< NLopt's status, for the log only
};

/// Why `algorithm` cannot serve a problem with that many constraints, in words; empty when it can. Refused are unknown
/// names, methods that the installed library lacks or that cannot be stopped safely, and constraints for a method that
/// takes none.
std::string refusal(const std::string& algorithm, int constraints);

/// Runs one optimisation on the calling thread. Equal problem and options give equal bytes, on any thread.
/// Throws std::invalid_argument with the refusal in words, before the model is called, when the problem or an option
/// is outside its domain; passes on what the model throws.
Optimum optimise(const Problem& problem, const Options& options);

/// The same, begun afresh from its own best point for as long as that gains anything and the budget, which covers all
/// of it, lasts: a method may stop short where its model of the problem has gone stale, and with constraints the value
/// is scaled anew where the run begins.
Optimum optimise_to_rest(const Problem& problem, Options options);

}  // namespace trammel::search
