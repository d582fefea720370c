// Screening in stages: the cheapest questions first, and no further once a layout is out.
#pragma once

#include <vector>

#include "objectives/assessor.hpp"

namespace trammel::objectives {

/// How far a layout got.
enum class Stage {
  packaging,      ///< out by its points as drawn
  end_of_stroke,  ///< out by its topped-out and bottomed positions
  stroke,         ///< out by the rules along the stroke
  curves,         ///< out by its curves, before all of them were computed
  through,        ///< its figure is complete
};

struct Screened {
  double figure = 0.0;  ///< complete when `stage` is `through`; else a lower bound that is over the limit
  Stage stage = Stage::through;
  bool assembles = true;  ///< at the positions that were looked at; if not, the figure is over `unassembled`
};

/// Added to the figure of a layout that does not assemble: above every figure of one that does.
inline constexpr double unassembled = 1e6;

/// Screens a layout. The figure is a sum of terms that are never negative, so a layout is out as soon as a part of the
/// sum is over `limit`: what remains is exactly what a full computation would have kept. Curves of a layout that does
/// not assemble are not computed.
Screened screen(Assessor<double>& assessor, const std::vector<math::Vec2<double>>& points, const Emphasis& emphasis,
                double limit);

}  // namespace trammel::objectives
