// How a bike stands as drawn, before anything moves: whether the drawing is level, faces right and fits together.
#pragma once

#include <optional>

#include "bike/layout.hpp"

namespace trammel::bike {

/// All of it topped out, in frame axes, which are level on a bike that is drawn level.
struct Stance {
  double turned = 0.0;         ///< of the drawing against the ground, degrees; positive = drawn front up, 0 = level.
                               ///< On the ground the frame is then pitched by as much the other way.
  double front_higher = 0.0;   ///< by how much the front tyre's lowest point is drawn above the rear tyre's, mm
  double wheelbase = 0.0;      ///< mm
  double between_tyres = 0.0;  ///< from tyre to tyre along the line through the axles, mm; negative = they overlap
  bool rear_ahead = false;     ///< the rear axle is drawn ahead of the bottom bracket, as on a bike that faces left
  /// Where axle, reach and stack are given: how far the axle lies ahead of the steering axis, square to it, mm.
  std::optional<double> fork_offset;
};

/// A drawing out of level by no more than this is level, mm: less than shows on a bike that stands on a floor (common
/// practice, no source).
inline constexpr double level_within = 2.0;
/// Fork offsets outside of these are none (common practice, no source), mm.
inline constexpr double least_fork_offset = -50.0, greatest_fork_offset = 150.0;

/// The axles must lie farther apart than the wheels' radii differ, as the reader of layouts sees to.
Stance stance(const Layout& layout);

/// By how much a drawing may be out of level, mm: `level_within`, and of a layout read off a picture what its reading
/// leaves open at the axle.
double level_slack(const Layout& layout);

}  // namespace trammel::bike
