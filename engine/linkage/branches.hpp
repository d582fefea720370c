// On which of two crossings each point was drawn: layouts that differ here are assembled differently.
#pragma once

#include <vector>

#include "linkage/kernel_drawn.hpp"

namespace trammel::linkage {

/// One sign a step that has a choice, in the program's order; true = the crossing that the kernel calls +1. `points`
/// are as drawn, topped out.
inline std::vector<bool> branches(const Program& program, const std::vector<math::Vec2<double>>& points) {
  std::vector<bool> out;
  for (const Step& step : program.steps) {
    if (step.kind == StepKind::meet) out.push_back(blocks::drawn_branch(points, step) > 0.0);
    if (step.kind == StepKind::hinge) {
      const auto along = points[blocks::index(step.line_b)] - points[blocks::index(step.line_a)];
      out.push_back(dot(along, points[blocks::index(step.b)] - points[blocks::index(step.a)]) >= 0.0);
    }
  }
  return out;
}

}  // namespace trammel::linkage
