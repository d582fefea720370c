// The figure that refinement minimises, with its exact gradient.
#pragma once

#include <span>
#include <vector>

#include "math/dual.hpp"
#include "objectives/screen.hpp"
#include "objectives/slopes.hpp"
#include "search/setup.hpp"

namespace trammel::search {

/// Partials carried at once; more variables take more passes.
inline constexpr int partials = 12;
using Derivative = math::Dual<partials>;

/// Per-task workspace of one choice: the screening figure in plain numbers, the same figure with its gradient, and
/// verdicts on finished layouts.
class Scorer {
 public:
  /// `setup` must outlive it.
  Scorer(const Setup& setup, int choice);

  /// Screens the layout at x ∈ [0, 1]ⁿ: its figure, or where it went over `limit`.
  objectives::Screened screen(std::span<const double> x, const objectives::Emphasis& emphasis, double limit);
  /// Why the layout last screened does not assemble.
  std::string failure() const { return assembly_failure(plain_); }

  /// The figure at x; its gradient when `gradient` is not empty.
  double figure(std::span<const double> x, const objectives::Emphasis& emphasis, std::span<double> gradient);

  /// Verdicts on the layout at x as it would be reported, on its grid.
  objectives::Assessment assessment(std::span<const double> x);

 private:
  const Setup* setup_;
  int choice_;
  objectives::Assessor<double> plain_;
  objectives::Slopes<Derivative> slopes_;
  std::vector<math::Vec2<double>> points_;
  std::vector<math::Vec2<Derivative>> slope_points_;
  std::vector<Derivative> slope_x_;
};

/// Verdicts on a layout that stands by itself.
objectives::Assessment assess_layout(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                                     const objectives::Packaging& packaging);

}  // namespace trammel::search
