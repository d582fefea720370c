#include "report/centres.hpp"

namespace trammel::report {

std::vector<CentreDistance> centre_distances(const bike::Layout& layout) {
  const auto& mechanism = layout.mechanism;
  std::vector<CentreDistance> out;
  for (std::size_t m = 0; m < mechanism.members.size(); ++m) {
    const linkage::Member& member = mechanism.members[m];
    for (std::size_t i = 0; i < member.points.size(); ++i)
      for (std::size_t j = i + 1; j < member.points.size(); ++j) {
        const auto a = static_cast<std::size_t>(member.points[i]), b = static_cast<std::size_t>(member.points[j]);
        out.push_back({member.name, mechanism.point_names[a], mechanism.point_names[b],
                       norm(mechanism.points[b] - mechanism.points[a]), static_cast<int>(m) == mechanism.frame});
      }
  }
  return out;
}

}  // namespace trammel::report
