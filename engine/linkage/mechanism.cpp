#include "linkage/mechanism.hpp"

#include <algorithm>

namespace trammel::linkage {

bool slides(const Mechanism& mechanism, int point) {
  return std::any_of(mechanism.sliders.begin(), mechanism.sliders.end(),
                     [&](const Slider& s) { return s.point == point; });
}

std::vector<int> pivots(const Mechanism& mechanism) {
  std::vector<int> found;
  for (int p = 0; p < static_cast<int>(mechanism.points.size()); ++p) {
    const auto carriers = std::count_if(mechanism.members.begin(), mechanism.members.end(), [&](const Member& m) {
      return std::find(m.points.begin(), m.points.end(), p) != m.points.end();
    });
    const Drive& drive = mechanism.drive;
    const bool eye = drive.kind == DriveKind::shock && (p == drive.a || p == drive.b);
    if (carriers > 1 || eye) found.push_back(p);
  }
  return found;
}

}  // namespace trammel::linkage
