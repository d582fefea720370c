#include "search/gradient_check.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "search/score.hpp"
#include "search/stream.hpp"

namespace trammel::search {
namespace {

constexpr objectives::Emphasis emphasis{20.0, 0.35};
constexpr double step = 1e-6;

/// Central differences at two steps; of their extrapolation and the finer one, whichever is nearer to `exact`: across a
/// corner of the slope the extrapolation is the worse.
double difference(Scorer& scorer, std::vector<double> x, std::size_t variable, double exact) {
  const double at = x[variable];
  const auto central = [&](double h) {
    x[variable] = at + h;
    const double more = scorer.figure(x, emphasis, {});
    x[variable] = at - h;
    return (more - scorer.figure(x, emphasis, {})) / (2.0 * h);
  };
  const double fine = central(step), coarse = central(2.0 * step);
  const double extrapolated = (4.0 * fine - coarse) / 3.0;
  return std::abs(extrapolated - exact) < std::abs(fine - exact) ? extrapolated : fine;
}

}  // namespace

double GradientEntry::off() const {
  return std::abs(exact - difference) / std::max(largest, 1e-12);
}

GradientCheck check_gradient(const Setup& setup, int layouts) {
  const auto n = static_cast<std::size_t>(setup.design.size());
  GradientCheck check;
  std::vector<Scorer> scorers;
  scorers.reserve(static_cast<std::size_t>(setup.design.choices()));
  for (int choice = 0; choice < setup.design.choices(); ++choice) scorers.emplace_back(setup, choice);
  std::vector<double> x(n), gradient(n);
  for (int trial = 0; trial < 1000 * layouts && check.layouts < layouts; ++trial) {
    const int choice = trial % setup.design.choices();
    Scorer& scorer = scorers[static_cast<std::size_t>(choice)];
    setup.sobol.point(static_cast<std::uint64_t>(trial), x);
    for (double& v : x) v = std::clamp(v, 2.0 * step, 1.0 - 2.0 * step);
    if (!scorer.screen(x, emphasis, std::numeric_limits<double>::infinity()).assembles) continue;
    ++check.layouts;
    scorer.figure(x, emphasis, gradient);
    double largest = 0.0;
    for (double g : gradient) largest = std::max(largest, std::abs(g));
    for (std::size_t v = 0; v < n; ++v, ++check.entries) {
      const GradientEntry entry{
          x, choice, setup.design.variables()[v].name, gradient[v], difference(scorer, x, v, gradient[v]), largest};
      if (check.entries == 0 || entry.off() > check.worst.off()) check.worst = entry;
    }
  }
  return check;
}

}  // namespace trammel::search
