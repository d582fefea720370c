// A layout made ready to move: its assembly program and the numbers that do not change with the pivots.
#pragma once

#include <string>
#include <vector>

#include "bike/chain.hpp"
#include "bike/layout.hpp"
#include "linkage/kernel.hpp"

namespace trammel::bike {

struct Model {
  Layout layout;
  linkage::Program program;
  std::vector<ChainCircles> circles;  ///< one a gear
  std::vector<ChainSpan> spans;       ///< those of idler and roller; none without
  Point steering;                     ///< unit vector up along the steering axis
  std::vector<int> clear_of;          ///< points from which the chain's distance is taken
  /// One a point: the members that feel a force from its pin under a load at the tyre. Of two that feel the same one
  /// stands for both, if it may be not the frame; none where nothing meets.
  std::vector<std::vector<int>> pins;

  /// Range of the driving coordinate: the shock's stroke, or that of the drive.
  double range() const { return layout.mechanism.drive.range; }
  /// What may fail to assemble: the linkage's joints, then the chain's spans.
  std::size_t joints() const { return program.joints.size() + spans.size(); }
  /// "tail", "the chain between idler and chainring".
  std::string joint_name(std::size_t joint) const;
  bool has_shock() const { return layout.shock.has_value(); }
};

/// How far the chain's i-th span is from not running, see tangent_margin.
template <class T>
T span_margin(const Model& m, std::size_t i, const std::vector<Vec2<T>>& position) {
  const Drivetrain& train = m.layout.drivetrain;
  const Idler& lead = m.spans[i].of_roller ? *train.roller : *train.idler;
  return span_margin(m.spans[i], position[static_cast<std::size_t>(m.layout.axle.point)],
                     position[static_cast<std::size_t>(lead.point)]);
}

/// Pitch circles of a gear's chain.
ChainCircles chain_circles(const Drivetrain& drivetrain, const Gear& gear);

/// Throws linkage::CompileFailure when the linkage is not one.
Model make_model(const Layout& layout);

}  // namespace trammel::bike
