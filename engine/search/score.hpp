// The figures that a search asks for: screening of whole blocks, and one layout's figure with its exact gradient.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "objectives/merge.hpp"
#include "search/setup.hpp"

namespace trammel::search {

/// Per-task workspace of one choice; nothing is allocated after the first call of each member.
///
/// The figure of a layout is the sum over its cases. As no term is negative, a layout that one case alone puts over a
/// limit is out, and the other cases are moved only for those that are left.
class Scorer {
 public:
  /// `setup` must outlive it.
  Scorer(const Setup& setup, int choice);
  /// The same by other demands than the setup's, one a case, which must outlive it.
  Scorer(const Setup& setup, int choice, std::span<const objectives::Demands> demands);

  /// Screens samples first … first + n − 1 of the sequence.
  std::span<const objectives::Screened> screen(std::uint64_t first, std::size_t n, const objectives::Emphasis& emphasis,
                                               double limit);
  /// Screens the layout at x ∈ [0, 1]ⁿ.
  objectives::Screened screen(std::span<const double> x, const objectives::Emphasis& emphasis, double limit);
  /// Screens the layouts at several x, whose numbers follow one another.
  std::span<const objectives::Screened> screen_all(std::span<const double> designs,
                                                   const objectives::Emphasis& emphasis, double limit);
  /// Why a layout that was screened does not assemble.
  std::string failure(const objectives::Screened& screened) const;

  /// The figure at x; its gradient when `gradient` is not empty.
  double figure(std::span<const double> x, const objectives::Emphasis& emphasis, std::span<double> gradient);

  /// What the layout at x achieves in each case, and the rows of its slopes with respect to x.
  struct CaseView {
    std::size_t number;  ///< of the case
    const objectives::Demands& demands;
    const objectives::Outcome<double>& outcome;
    objectives::Evaluator& evaluator;
    const bike::Tangents& tangents;  ///< to be given to the evaluator; empty unless slopes are wanted
  };
  /// Hands the cases of the layout at x to take(view), one after the other.
  template <class Take>
  void each_case(std::span<const double> x, bool slopes, Take take) {
    setup_->design.place<double>(x, choice_, points_);
    if (slopes) find_tangents(x);
    outcomes_.resize(parts_.size());
    for (std::size_t k = 0; k < parts_.size(); ++k) {
      Part& part = parts_[k];
      const objectives::Outcome<double>& outcome = part.evaluator->evaluate(points_in(part, points_));
      outcomes_[k] = &outcome;
      // A case that only moves points by fixed amounts has the tangents of the layout as drawn.
      take(CaseView{k, *part.demands, outcome, *part.evaluator, part.points.settles() ? part.tangents : tangents_});
    }
  }

  // What targets see that compare cases, of the layout that `each_case` last handed out; slopes after it had slopes.

  const Setup& setup() const { return *setup_; }
  /// The value in each of a comparison's cases; until the next call.
  const std::vector<double>& values_of(const objectives::Comparison& one);
  /// Adds `weight` times the slopes of a difference between two of them to a gradient.
  void add_slopes(const objectives::Comparison& one, const objectives::Difference& difference, double weight,
                  std::span<double> gradient);
  /// What the differences add to the figure, and to its gradient when that is not empty.
  double differences(const objectives::Emphasis& emphasis, std::span<double> gradient);

  /// Verdicts on the layout at x as it would be reported, on its grid.
  objectives::Assessment assessment(std::span<const double> x);

  /// The values of that layout that targets look at, case by case, target by target, place by place.
  void values(std::span<const double> x, std::vector<double>& out);

 private:
  static constexpr int width = objectives::Block::lanes;
  using Wide = math::Pack<width>;
  /// Variables whose effect on the points is taken at once.
  static constexpr std::size_t partials = 12;
  using Derivative = math::Dual<partials>;

  /// What one case needs.
  struct Part {
    const objectives::Demands* demands;
    std::unique_ptr<objectives::Evaluator> evaluator;
    bike::CasePoints<double> points;
    bike::CasePoints<Wide> wide_points;
    bike::CasePoints<Derivative> slope_points;
    bike::Tangents tangents;  ///< of a case that settles
  };

  /// How the points move with the variables, as drawn and in the cases that settle.
  void find_tangents(std::span<const double> x);
  /// Points of the case, taken from those as drawn.
  const std::vector<math::Vec2<double>>& points_in(Part& part, const std::vector<math::Vec2<double>>& drawn);
  /// The layouts of x_'s lanes into the block of layouts as drawn, from `layout` on.
  void put(std::size_t layout);
  /// Screens the layouts of the block as drawn.
  void screen_block(const objectives::Emphasis& emphasis, double limit);
  /// Adds what targets make of differences between cases, for the layouts of the block that are left.
  void screen_differences(const objectives::Emphasis& emphasis, double limit);
  /// Screens layouts of the block in one case, those that `left_` numbers.
  void screen_case(Part& part, const objectives::Emphasis& emphasis, double limit);

  const Setup* setup_;
  int choice_;
  std::vector<Part> parts_;
  objectives::Block block_, case_block_;
  std::vector<objectives::Screened> screened_, case_screened_;
  std::vector<std::size_t> left_;                             ///< layouts of the block that are within the limit so far
  std::vector<const objectives::Outcome<double>*> outcomes_;  ///< of the layout last evaluated, one a case
  std::vector<double> compared_;
  std::vector<std::uint64_t> bits_;
  std::vector<double> sample_, case_gradient_;
  std::vector<Wide> x_;
  std::vector<math::Vec2<Wide>> wide_points_;
  std::vector<math::Vec2<double>> points_, case_points_;
  std::vector<Derivative> slope_x_;
  std::vector<math::Vec2<Derivative>> slope_points_, case_slopes_;
  bike::Tangents tangents_;
};

/// Verdicts on a layout that stands by itself, as drawn.
objectives::Assessment assess_layout(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                                     const objectives::Packaging& packaging);

}  // namespace trammel::search
