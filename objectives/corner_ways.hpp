// The ways of bodies' corners from station to station: how far they go, and how much they bend.
#pragma once

#include <algorithm>
#include <array>
#include <vector>

#include "bike/room.hpp"

namespace trammel::objectives {

class CornerWays {
 public:
  CornerWays(const bike::Room& room, std::size_t stations) : outlines_(stations) {
    for (std::vector<linkage::Point>& outline : outlines_) outline.resize(room.corners());
    for (std::size_t k = 0; k < room.measures(); ++k) moving_.push_back(room.corners_of(k));
  }

  std::size_t stations() const { return outlines_.size(); }
  /// All corners at a station, mm; to be set for each.
  std::vector<linkage::Point>& outline(std::size_t station) { return outlines_[station]; }
  const std::vector<linkage::Point>& outline(std::size_t station) const { return outlines_[station]; }

  /// How far the two of a measure can come together from a station to the next, going straight, mm.
  double moved(std::size_t measure, std::size_t station) const {
    return of_both(measure, [&](std::size_t corner) { return norm(step(corner, station)); });
  }

  /// By how much the two of a measure leave the straight ways of their corners between two places behind a station that
  /// are `part` of the way to the next apart, mm: an eighth of the second difference, which is taken for twice as much
  /// as it is at the stations around.
  double aside(std::size_t measure, std::size_t station, double part) const {
    constexpr double bends = 2.0;
    double most = 0.0;
    for (std::size_t i = station > 0 ? station - 1 : 0; i <= station + 2; ++i) {
      const std::size_t at = std::clamp<std::size_t>(i, 1, stations() - 2);
      most = std::max(
          most, of_both(measure, [&](std::size_t corner) { return norm(step(corner, at) - step(corner, at - 1)); }));
    }
    return bends * 0.125 * part * part * most;
  }

 private:
  linkage::Point step(std::size_t corner, std::size_t station) const {
    return outlines_[station + 1][corner] - outlines_[station][corner];
  }
  /// Of the corner of which it is most, added up for the two.
  template <class Of>
  double of_both(std::size_t measure, Of of) const {
    double sum = 0.0;
    for (const std::vector<int>& corners : moving_[measure]) {
      double most = 0.0;
      for (const int c : corners) most = std::max(most, of(static_cast<std::size_t>(c)));
      sum += most;
    }
    return sum;
  }

  std::vector<std::vector<linkage::Point>> outlines_;
  std::vector<std::array<std::vector<int>, 2>> moving_;  ///< corners of the two of each measure
};

}  // namespace trammel::objectives
