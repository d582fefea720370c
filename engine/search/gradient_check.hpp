// Whether the gradient that refinement follows is right for a brief: held against differences of the figure.
#pragma once

#include <string>
#include <vector>

#include "search/setup.hpp"

namespace trammel::search {

/// One entry of the gradient, both ways.
struct GradientEntry {
  std::vector<double> x;    ///< the layout, in [0, 1]ⁿ
  int choice = 0;           ///< and its discrete choice
  std::string variable;     ///< e.g. "main.x"
  double exact = 0.0;       ///< d(figure)/dx
  double difference = 0.0;  ///< by central differences, extrapolated from two steps
  double largest = 0.0;     ///< greatest size of an entry of that gradient
  double off() const;       ///< |exact − difference| as a share of `largest`
};

struct GradientCheck {
  int layouts = 0;  ///< compared; each assembles
  int entries = 0;
  GradientEntry worst;  ///< the entry that is farthest off
};

/// Compares every entry at `layouts` random layouts that assemble, the same for the same brief; fewer when among a
/// thousand times as many not so many assemble. The figure's slope has corners where a target begins to be missed: a
/// difference across one is off by up to the step, 1e-6 of the range, without the gradient being wrong.
GradientCheck check_gradient(const Setup& setup, int layouts);

}  // namespace trammel::search
