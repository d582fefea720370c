// How widely designs are spread: how many of them lie so far from one another.
#pragma once

#include <algorithm>
#include <span>
#include <vector>

#include "search/design.hpp"

namespace trammel::search {

class Apart {
 public:
  /// Designs nearer than `radius` (RMS over the variables) to one that was counted before are not counted.
  explicit Apart(double radius) : radius_(radius) {}

  /// The number of the first counted design that x ∈ [0, 1]ⁿ is near to, or of x itself if there is none. What is
  /// counted depends on the order, so designs come in a fixed one.
  std::size_t add(std::span<const double> x) {
    auto home = std::find_if(counted_.begin(), counted_.end(),
                             [&](const std::vector<double>& one) { return distance(one, x) < radius_; });
    if (home == counted_.end()) home = counted_.insert(home, {x.begin(), x.end()});
    return static_cast<std::size_t>(home - counted_.begin());
  }
  std::size_t count() const { return counted_.size(); }

 private:
  double radius_;
  std::vector<std::vector<double>> counted_;
};

}  // namespace trammel::search
