#include "search/family_reach.hpp"

#include <algorithm>
#include <cmath>

#include "search/optimiser.hpp"

namespace trammel::search {
namespace {

/// Most legs from a start, and most evaluations of the refinement that finds where one should lead.
constexpr int most_legs = 3;
constexpr int evaluations = 40;
/// A leg that gains less than this of the range is the last.
constexpr double least_gain = 0.002;
const brief::TradeOff requirements_alone;

bool is_farther(double a, double b, bool up) {
  return up ? a > b : a < b;
}

}  // namespace

FamilyReach::FamilyReach(const Setup& setup, int choice)
    : path_(setup, choice),
      model_(setup, choice, requirements_alone, std::vector<bool>(setup.brief.targets.size(), true)),
      demands_(model_.problem()) {}

/// The design with the greatest or least variable i that keeps every must and rule, as a refinement finds it.
std::vector<double> FamilyReach::pushed(const std::vector<double>& from, std::size_t i, bool up) const {
  Problem problem;
  problem.n = demands_.n;
  problem.constraints = demands_.constraints;
  problem.evaluate = [&](std::span<const double> x, Evaluation& out) {
    out.value = up ? -x[i] : x[i];
    if (!out.gradient.empty()) out.gradient[i] = up ? -1.0 : 1.0;
    FrontEvaluation model{{}, {}, out.constraints, out.jacobian};
    return demands_.evaluate(x, model);
  };
  const Optimum optimum =
      optimise_to_rest(problem, {.algorithm = "LD_SLSQP", .evaluations = evaluations, .start = from});
  return optimum.best && optimum.best->feasible ? optimum.best->x : from;
}

/// The last feasible place of the path.
std::vector<double> FamilyReach::towards(const std::vector<double>& from, const std::vector<double>& to) {
  const double share = path_.reach(from, to);
  if (share == 1.0) return to;
  std::vector<double> place = from;
  for (std::size_t k = 0; k < place.size(); ++k) place[k] += (to[k] - from[k]) * share;
  return place;
}

std::vector<double> FamilyReach::leg(const std::vector<double>& from, std::size_t i, bool up) {
  std::vector<double> alone = from;
  alone[i] = up ? 1.0 : 0.0;
  alone = towards(from, alone);
  if (alone[i] == 0.0 || alone[i] == 1.0) return alone;
  const std::vector<double> end = pushed(from, i, up);
  if (!is_farther(end[i], alone[i], up)) return alone;
  std::vector<double> together = towards(from, end);
  return is_farther(together[i], alone[i], up) ? together : alone;
}

double FamilyReach::farthest(const std::vector<std::vector<double>>& starts, std::size_t i, bool up) {
  const double bound = up ? 1.0 : 0.0;
  double best = 1.0 - bound;
  for (std::vector<double> at : starts)
    for (int n = 0; n < most_legs; ++n) {
      if (is_farther(at[i], best, up)) best = at[i];
      if (best == bound) return best;
      std::vector<double> next = leg(at, i, up);
      const bool gains = std::abs(next[i] - at[i]) > least_gain;
      at = std::move(next);
      if (is_farther(at[i], best, up)) best = at[i];
      if (!gains) break;
    }
  return best;
}

}  // namespace trammel::search
