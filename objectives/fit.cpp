#include "objectives/fit.hpp"

namespace trammel::objectives {

std::vector<PivotPair> pivot_pairs(const linkage::Mechanism& mechanism) {
  const std::vector<int> pivots = linkage::pivots(mechanism);
  std::vector<PivotPair> pairs;
  for (std::size_t i = 0; i < pivots.size(); ++i)
    for (std::size_t j = i + 1; j < pivots.size(); ++j) pairs.emplace_back(pivots[i], pivots[j]);
  return pairs;
}

}  // namespace trammel::objectives
