#include "objectives/fit.hpp"

#include <algorithm>

namespace trammel::objectives {

std::vector<PivotPair> pivot_pairs(const linkage::Mechanism& mechanism) {
  std::vector<int> pivots;
  for (int p = 0; p < static_cast<int>(mechanism.points.size()); ++p) {
    const auto carriers = std::count_if(mechanism.members.begin(), mechanism.members.end(), [&](const auto& m) {
      return std::find(m.points.begin(), m.points.end(), p) != m.points.end();
    });
    const linkage::Drive& d = mechanism.drive;
    const bool eye = d.kind == linkage::DriveKind::shock && (p == d.a || p == d.b);
    if (carriers > 1 || eye) pivots.push_back(p);
  }
  std::vector<PivotPair> pairs;
  for (std::size_t i = 0; i < pivots.size(); ++i)
    for (std::size_t j = i + 1; j < pivots.size(); ++j) pairs.emplace_back(pivots[i], pivots[j]);
  return pairs;
}

}  // namespace trammel::objectives
