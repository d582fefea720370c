// The margins of a layout one by one, each with its exact slopes: how far inside every limit it lies.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "search/constraints.hpp"

namespace trammel::search {

/// One margin: of a value of a target on one side of what it allows, or of a rule; of each case. As of a verdict, but
/// not cut off at 1.
struct Margin {
  double value = 0.0;
  bool must = false;    ///< of a must or a rule
  bool target = false;  ///< of a target that the brief itself names
};

/// Per-task workspace. How many margins there are, and their order, is the same for every layout of a scorer.
class Margins {
 public:
  /// `scorer` must outlive it.
  explicit Margins(Scorer& scorer) : scorer_(scorer) {}

  /// All margins of the layout at x ∈ [0, 1]ⁿ.
  const std::vector<Margin>& at(std::span<const double> x);

  /// What is asked at a place. Slopes are row-major and empty when they are not wanted.
  struct Asked {
    std::span<const std::size_t> numbers;  ///< of margins, ascending
    std::span<double> values, slopes;      ///< of each of them
    double* score = nullptr;  ///< set to the weighted squared misses of the wishes alone; null = not wanted
    std::span<double> score_slopes;
  };
  void evaluate(std::span<const double> x, const Asked& asked);

 private:
  Scorer& scorer_;
  RowSlopes rows_;
  std::vector<Margin> margins_;
  std::vector<double> gradient_;
};

}  // namespace trammel::search
