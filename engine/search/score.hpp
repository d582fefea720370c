// The figures that a search asks for: screening of whole blocks, and one layout's figure with its exact gradient.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "search/setup.hpp"

namespace trammel::search {

/// Per-task workspace of one choice; nothing is allocated after the first call of each member.
class Scorer {
 public:
  /// `setup` must outlive it.
  Scorer(const Setup& setup, int choice);

  /// Screens samples first … first + n − 1 of the sequence.
  std::span<const objectives::Screened> screen(std::uint64_t first, std::size_t n, const objectives::Emphasis& emphasis,
                                               double limit);
  /// Screens the layout at x ∈ [0, 1]ⁿ.
  objectives::Screened screen(std::span<const double> x, const objectives::Emphasis& emphasis, double limit);
  /// Why a layout that was screened does not assemble.
  std::string failure(const objectives::Screened& screened) const;

  /// The figure at x; its gradient when `gradient` is not empty.
  double figure(std::span<const double> x, const objectives::Emphasis& emphasis, std::span<double> gradient);

  /// Verdicts on the layout at x as it would be reported, on its grid.
  objectives::Assessment assessment(std::span<const double> x);

 private:
  static constexpr int width = objectives::Block::lanes;
  /// Variables whose effect on the points is taken at once.
  static constexpr std::size_t partials = 4;
  using Derivative = math::Dual<partials>;

  /// How the points move with the variables.
  void find_tangents(std::span<const double> x);
  /// The layouts of x_'s lanes into the block, from `layout` on.
  void put(std::size_t layout);

  const Setup* setup_;
  const objectives::Demands* demands_;
  int choice_;
  std::unique_ptr<objectives::Evaluator> evaluator_;
  objectives::Block block_;
  std::vector<objectives::Screened> screened_;
  std::vector<std::uint64_t> bits_;
  std::vector<double> sample_;
  std::vector<math::Pack<width>> x_;
  std::vector<math::Vec2<math::Pack<width>>> wide_points_;
  std::vector<math::Vec2<double>> points_;
  std::vector<Derivative> slope_x_;
  std::vector<math::Vec2<Derivative>> slope_points_;
  bike::Tangents tangents_;
};

/// Verdicts on a layout that stands by itself.
objectives::Assessment assess_layout(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                                     const objectives::Packaging& packaging);

}  // namespace trammel::search
