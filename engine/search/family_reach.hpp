// How far a varied number can go from a family's layouts before a must or rule stands in the way.
#pragma once

#include <vector>

#include "search/feasible_path.hpp"
#include "search/trade_off.hpp"

namespace trammel::search {

/// Per-task workspace of one choice.
class FamilyReach {
 public:
  /// `setup` must outlive it.
  FamilyReach(const Setup& setup, int choice);

  /// The farthest value of variable i, 0 … 1, to which feasible paths were found from any of some feasible designs:
  /// straight legs on which it moves alone, or with the other variables giving way.
  double farthest(const std::vector<std::vector<double>>& starts, std::size_t i, bool up);

 private:
  std::vector<double> leg(const std::vector<double>& from, std::size_t i, bool up);
  std::vector<double> pushed(const std::vector<double>& from, std::size_t i, bool up) const;
  std::vector<double> towards(const std::vector<double>& from, const std::vector<double>& to);

  FeasiblePath path_;
  TradeOffModel model_;
  FrontProblem demands_;  ///< of requirements alone
};

}  // namespace trammel::search
