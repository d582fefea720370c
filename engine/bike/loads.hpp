// Loads at the tyre carried through the linkage: what every pivot and the shock take, through the stroke.
#pragma once

#include <string>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::bike {

/// One pivot as one member feels it, through the stroke.
struct PivotLoad {
  /// In place of a member: the wheel, on an axle that slides. The member there feels the sum of wheel and rail.
  static constexpr int wheel = -1;

  int point = -1;
  int member = -1;
  std::vector<Point> force;  ///< N, of the pin on the member, frame axes; one a station
  std::size_t worst = 0;     ///< station of the greatest force
};

/// The name of what feels it.
inline std::string felt_by(const linkage::Mechanism& mechanism, const PivotLoad& pivot) {
  return pivot.member == PivotLoad::wheel ? "wheel" : mechanism.members[static_cast<std::size_t>(pivot.member)].name;
}

struct CaseLoads {
  LoadCase of;
  std::vector<double> travel, shock;       ///< mm, one a station
  std::vector<double> shock_force;         ///< N, positive as the spring pushes
  std::size_t worst_shock = 0;             ///< station of the greatest
  std::vector<PivotLoad> pivots;           ///< a pivot of two members once; with more parties once a member
  std::vector<std::vector<double>> shoes;  ///< one a slider: N across the rail, one a station
};

/// All cases of the layout at `stations` ≥ 2 places, even in the shock's compression. Empty without a shock or cases.
/// Throws MotionFailure when the layout does not move through its stroke.
std::vector<CaseLoads> pivot_loads(const Layout& layout, int stations);

}  // namespace trammel::bike
