// What a rider can tell of a layout: the curves that the targets look at, in tolerances.
#pragma once

#include <memory>
#include <vector>

#include "search/score.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// Per-task workspace. Two layouts that differ by less than a tolerance at every place of every target, in every
/// setting and size, are the same choice to whoever rides them.
class Feel {
 public:
  /// `setup` must outlive it.
  explicit Feel(const Setup& setup);

  /// The value at every place of every target in every case, over the target's tolerance.
  std::vector<double> of(const store::LayoutRow& row);

 private:
  const Setup* setup_;
  std::vector<std::vector<std::unique_ptr<Scorer>>>
      scorers_;  ///< of each linkage one a choice, made when first asked for
};

/// The greatest difference, ≥ 0: how far apart two layouts are in what Feel tells of them. Both of one linkage.
double difference(const std::vector<double>& a, const std::vector<double>& b);

}  // namespace trammel::search
