// Points on the steps of a brief's grid.
#pragma once

#include <span>
#include <vector>

#include "search/design.hpp"

namespace trammel::search {

/// Variables that go to the grid together: one coordinate, or the distance and angle of a point.
struct GridPart {
  std::vector<std::size_t> variables;
  std::size_t placing = 0;                ///< number of the point's placing in the design
  int axis = -1;                          ///< 0 = x, 1 = y; −1 = both, by distance and angle
  std::vector<bike::Point> neighbours{};  ///< in steps
};

/// What of a design can be put on a grid. A point placed by distance and angle can when the search moves both and the
/// other point keeps to whole steps. One whose distance is given cannot: it follows. A shock's second eye can where
/// `search.eye_error` lets its distance be off a little.
class Grid {
 public:
  /// `design` must outlive it; `step` in mm, > 0.
  Grid(const Design& design, double step);

  /// In an order in which every point comes after those that it is placed from.
  const std::vector<GridPart>& parts() const { return parts_; }

  /// Puts one part of x on the step nearest to where it is, `off` steps further; only of a coordinate is a step beyond
  /// its range drawn back into it. False, with x as it was, where the ranges hold no such step.
  bool put(const GridPart& part, bike::Point off, int choice, std::vector<double>& x) const;

 private:
  bool put_coordinate(const GridPart& part, bike::Point off, const std::vector<bike::Point>& points,
                      std::vector<double>& x) const;
  bool put_polar(const GridPart& part, bike::Point off, int choice, const std::vector<bike::Point>& points,
                 std::vector<double>& x) const;
  bool keeps_steps(int point) const { return point < 0 || in_steps_[static_cast<std::size_t>(point)]; }

  const Design& design_;
  double step_;
  std::vector<GridPart> parts_;
  std::vector<bool> in_steps_;  ///< of each point: once the parts before are on the grid, it moves by whole steps
};

}  // namespace trammel::search
