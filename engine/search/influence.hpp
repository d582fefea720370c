// What each variable of a brief does to each target, to first order at the layout as drawn.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "search/setup.hpp"

namespace trammel::search {

/// The layout as drawn among those that a brief's ranges hold.
struct DrawnDesign {
  std::vector<double> x;  ///< its variables as parts of their ranges; below 0 or above 1 where drawn outside of them
  int choice = 0;         ///< the choice on offer that is nearest to what is drawn
  double off = 0.0;       ///< how far the point that is farthest off lies from where it is drawn, mm: ties that the
                          ///< drawing does not keep, or another shock than the drawn one
  int off_point = -1;     ///< that point
};
DrawnDesign drawn_design(const Setup& setup);

/// One target, where the layout as drawn comes nearest to breaking the wish, of several cases in the one that decides.
struct Reach {
  double value = 0.0;              ///< in the target's unit, as all below
  std::vector<double> effects;     ///< of each variable: change of the value over its whole range, the others as drawn
  double least = 0.0, most = 0.0;  ///< where all variables together take the value within their ranges, to first order
  bool moved = false;              ///< some variable changes it by the target's tolerance or more
};

struct Influence {
  DrawnDesign drawn;
  std::vector<Reach> targets;  ///< in the brief's order
  /// Points of which no variable moves a target by its tolerance, a list for each target, by name.
  std::vector<std::vector<std::string>> idle;
};

/// From exact slopes. Nothing where the layout as drawn does not assemble. Deterministic.
std::optional<Influence> influence_of(const Setup& setup);

/// "eye" of "eye.angle".
std::string point_of(const Variable& variable);

}  // namespace trammel::search
