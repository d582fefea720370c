// A step towards a front of trade-offs: one ray, and the layout that gets furthest along it.
#pragma once

#include <atomic>
#include <limits>
#include <optional>
#include <vector>

#include "search/front.hpp"
#include "search/optimiser.hpp"

namespace trammel::search {

using Point = std::vector<double>;

/// One refinement's aim: minimise t so that every figure k ≤ from k + t·rate k, t within [t_least, t_most].
struct FrontAim {
  static constexpr double no_limit = std::numeric_limits<double>::infinity();

  std::vector<double> from, rate;  ///< `from` is `no_limit` for a figure that is free
  double t_least = 0.0, t_most = 1.0;
};

/// Whether the run has been called off.
inline bool cancelled(const FrontOptions& options) {
  return options.cancel && options.cancel->load(std::memory_order_relaxed);
}

/// Refinements towards aims. Both arguments must outlive it.
class AimedSearch {
 public:
  AimedSearch(const FrontProblem& problem, const FrontOptions& options)
      : problem_(problem), options_(options), scale_(static_cast<std::size_t>(problem.figures()), 1.0) {}

  /// Each figure at x ∈ [0, 1]ⁿ: the greatest of its parts; none where the model breaks down.
  std::optional<Point> figures_at(const Point& x) const;

  /// The best feasible end of refinements from all starts; none when there is none or the run is cancelled.
  std::optional<FrontPoint> refine(const FrontAim& aim, const std::vector<Point>& starts);

  /// What one unit of each figure is to the optimiser.
  Point& scale() { return scale_; }
  int evaluations() const { return evaluations_; }

 private:
  Problem as_problem(const FrontAim& aim) const;
  double first_t(const FrontAim& aim, const Point& x) const;

  const FrontProblem& problem_;
  const FrontOptions& options_;
  Point scale_;
  int evaluations_ = 0;
};

}  // namespace trammel::search
