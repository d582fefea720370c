#include "search/front_aim.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace trammel::search {
namespace {

/// Less than this of the range of t is no gain; most turns of the two methods.
constexpr double least_gain = 1e-7;
constexpr int most_turns = 6;
/// So many times the evaluations for what goes on from the best end.
constexpr int second_effort = 4;

}  // namespace

std::optional<Point> AimedSearch::figures_at(const Point& x) const {
  Point parts(problem_.figure_of.size()), constraints(static_cast<std::size_t>(problem_.constraints));
  FrontEvaluation out{parts, {}, constraints, {}};
  if (!problem_.evaluate(x, out)) return std::nullopt;
  Point figures(scale_.size(), -FrontAim::no_limit);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    double& figure = figures[static_cast<std::size_t>(problem_.figure_of[i])];
    figure = std::max(figure, parts[i]);
  }
  return figures;
}

/// The aim as a problem on the unit box of (x, t).
Problem AimedSearch::as_problem(const FrontAim& aim) const {
  const auto n = static_cast<std::size_t>(problem_.n), parts = problem_.figure_of.size();
  const int constraints = static_cast<int>(parts) + problem_.constraints;
  return {problem_.n + 1, constraints, [this, aim, n, parts](std::span<const double> xt, Evaluation& out) {
            const double t = aim.t_least + xt[n] * (aim.t_most - aim.t_least);
            const bool slopes = !out.jacobian.empty();
            const auto demands = static_cast<std::size_t>(problem_.constraints);
            Point values(parts), value_slopes(slopes ? parts * n : 0), jacobian(slopes ? demands * n : 0);
            FrontEvaluation model{values, value_slopes, out.constraints.subspan(parts), jacobian};
            if (!problem_.evaluate(xt.first(n), model)) return false;
            out.value = xt[n];
            if (!out.gradient.empty()) out.gradient[n] = 1.0;
            for (std::size_t i = 0; i < parts; ++i) {
              const auto k = static_cast<std::size_t>(problem_.figure_of[i]);
              out.constraints[i] = -1.0;
              if (aim.from[k] == FrontAim::no_limit) continue;
              out.constraints[i] = (values[i] - aim.from[k] - t * aim.rate[k]) / scale_[k];
              if (!slopes) continue;
              for (std::size_t j = 0; j < n; ++j) out.jacobian[i * (n + 1) + j] = value_slopes[i * n + j] / scale_[k];
              out.jacobian[i * (n + 1) + n] = -aim.rate[k] * (aim.t_most - aim.t_least) / scale_[k];
            }
            for (std::size_t c = 0; slopes && c < demands; ++c)
              std::copy_n(&jacobian[c * n], n, &out.jacobian[(parts + c) * (n + 1)]);
            return true;
          }};
}

/// The least t, in [0, 1], at which the figures of a start are allowed.
double AimedSearch::first_t(const FrontAim& aim, const Point& x) const {
  const auto figures = figures_at(x);
  if (!figures) return 1.0;
  double t = aim.t_least;
  for (std::size_t k = 0; k < figures->size(); ++k)
    if (aim.from[k] < FrontAim::no_limit && aim.rate[k] > 0.0)
      t = std::max(t, ((*figures)[k] - aim.from[k]) / aim.rate[k]);
  return std::clamp((t - aim.t_least) / (aim.t_most - aim.t_least), 0.0, 1.0);
}

std::optional<FrontPoint> AimedSearch::refine(const FrontAim& aim, const std::vector<Point>& starts) {
  const Problem problem = as_problem(aim);
  std::optional<Incumbent> best;
  const auto run = [&](const std::string& algorithm, int evaluations, Point start) {
    Options options{.algorithm = algorithm, .evaluations = evaluations, .start = std::move(start)};
    options.cancel = options_.cancel;
    Optimum end = optimise_to_rest(problem, options);
    evaluations_ += end.evaluations;
    const bool better = end.best && end.best->feasible && (!best || end.best->value < best->value - least_gain);
    if (better) best = std::move(end.best);
    return better;
  };
  for (Point start : starts) {
    start.push_back(first_t(aim, start));
    run(options_.algorithm, options_.evaluations, std::move(start));
  }
  // Each method takes over where the other comes to rest, until both do.
  for (int turn = 0; best && !options_.second.empty() && turn < most_turns; ++turn)
    if (!run(turn % 2 == 0 ? options_.second : options_.algorithm, second_effort * options_.evaluations, best->x))
      break;
  if (!best || cancelled(options_)) return std::nullopt;
  best->x.pop_back();
  auto figures = figures_at(best->x);
  if (!figures) return std::nullopt;
  return FrontPoint{std::move(best->x), std::move(*figures)};
}

}  // namespace trammel::search
