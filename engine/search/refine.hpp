// From a screened sample to a finished layout: penalties to get there, constraints to make room, the grid last.
#pragma once

#include <atomic>
#include <cstdint>
#include <vector>

#include "search/finish.hpp"
#include "search/setup.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// The refinements of one work unit.
class Refiner {
 public:
  /// `setup` and `scorer`, which is of that choice, must outlive it. `unit`: its number, for random streams.
  Refiner(const Setup& setup, std::int64_t unit, int choice, Scorer& scorer, const std::atomic<bool>* cancel);

  /// What a refinement from x, start number `number` of the unit, ends in.
  store::LayoutRow refined(std::vector<double> x, std::uint32_t number);
  /// What a finish of a refined layout ends in that may go anywhere, not only in the layout's neighbourhood.
  store::LayoutRow far_finished(const store::LayoutRow& row);
  /// The layout on the brief's grid: one part after the other goes to its nearest step and the rest is refined again;
  /// at the end each one tries its neighbours. A part whose ranges hold no step stays where it is.
  store::LayoutRow gridded(const store::LayoutRow& row);

  std::int64_t evaluations() const { return evaluations_; }

 private:
  /// The floor of the must margin, and how far a finish may go for margins alone, from where; empty = from the layout.
  struct Reach {
    double room, near;
    std::vector<double> home;
  };
  std::vector<double> refine(Scorer& scorer, const std::vector<double>& start, const objectives::Emphasis& emphasis,
                             std::uint32_t stage);
  store::LayoutRow finished(Scorer& by, const Reach& reach, store::LayoutRow row, const std::vector<bool>& held);
  store::LayoutRow with_reserve(store::LayoutRow row, std::uint32_t stage);
  store::LayoutRow judged(Scorer& by, double room, const std::vector<double>& x) const;
  store::LayoutRow row_of(const std::vector<double>& x);
  double room() const { return setup_.brief.search.room; }
  std::vector<bool> none_held() const {
    return std::vector<bool>(static_cast<std::size_t>(setup_.design.size()), false);
  }

  const Setup& setup_;
  std::int64_t unit_;
  int choice_;
  Scorer& scorer_;
  const std::atomic<bool>* cancel_;
  double near_;
  std::int64_t evaluations_ = 0;
};

}  // namespace trammel::search
