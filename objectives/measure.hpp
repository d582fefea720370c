// The table of measures: one record a measure, read by the brief's parser, the schema, the reports and the docs.
#pragma once

#include <limits>
#include <optional>
#include <span>
#include <string_view>

#include "bike/curve.hpp"

namespace trammel::objectives {

/// One number made from the values of a curve at several places.
enum class Measure {
  progressivity,
  difference,
  ratio,
  mid_stroke_support,
  bottom_out_ramp,
  mean,
  least,
  greatest,
  range,
  slope,
  curvature,
  straightness,
  rise,
  fall,
  total_rise,
  end_slope,
  crossing,
  crossing_fraction,
  sag_travel,
  sag_fraction,
  bottom_out_margin,
  set_up_spacers,
  gear_spread,
  path_deviation,
};
inline constexpr int measure_count = static_cast<int>(Measure::path_deviation) + 1;

/// How the values at the places become one number. y are they, in the order of the travel, n + 1 over a stretch, evenly
/// spaced in wheel travel; L the stretch's wheel travel in mm; u = 0 … 1 along it.
enum class Reduction {
  none,        ///< no measure: each value is judged by itself
  drop_share,  ///< (y0 − y1) / y0, of two places
  difference,  ///< y1 − y0
  ratio,       ///< y1 / y0
  mean,        ///< ∫y du by Simpson's rule, exact for cubics
  least,
  greatest,
  range,          ///< greatest − least
  slope,          ///< of the least-squares line over the wheel travel
  curvature,      ///< second derivative of the least-squares parabola over the wheel travel
  straightness,   ///< greatest distance from the least-squares line, along y
  rise,           ///< greatest y_j − y_i with j > i
  fall,           ///< greatest y_i − y_j with j > i
  total_rise,     ///< sum of all y_{i+1} − y_i that are positive
  end_slope,      ///< greater slope between two places at either end, over the mean slope between the places in between
  crossing,       ///< u where straight lines between the values first pass a level; see `reduced` for when they do not
  bottom_margin,  ///< y0 / leverage bottomed − 100
  spacers,        ///< of y with 0, 1, 2 … spacers: how many make that 0, straight between whole numbers
  spread,         ///< greatest difference between gears at one place
  path,           ///< at each place the distance of x from a path x(y)
};

/// Which keys say where a measure looks.
enum class Where {
  between,  ///< `from` and `to`
  fixed,    ///< two places that the measure itself names
  stretch,  ///< `over`, the whole travel unless given
  whole,    ///< always the whole travel
  any,      ///< `at` or `over`
};

/// The unit of a measure, u being its curve's.
enum class MeasureUnit { curve, per_mm, per_mm2, none, mm };

struct MeasureRecord {
  Measure measure;
  std::string_view key;    ///< its name in a brief
  std::string_view title;  ///< its name in a report
  Reduction reduction;
  Where where;
  /// The curve that it is of when the brief names none; absent = the brief must.
  std::optional<bike::Curve> curve;
  bool own_curve;  ///< it is of that curve and no other
  MeasureUnit unit;
  /// Default scale of a target's residual: in the measure's unit, or, with `of_curve`, times the curve's tolerance.
  double tolerance;
  bool of_curve;
  std::string_view meaning;  ///< one sentence for the docs and the schema
  /// A share of a whole that lies between these, so that a wish beyond them is a slip; of its usual curve only.
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
};

// Places and levels that measures name themselves.

inline constexpr double mid_stroke = 0.5;         ///< of the wheel travel
inline constexpr double ramp_from = 0.8;          ///< of the wheel travel
inline constexpr double resting_support = 100.0;  ///< spring support at which the bike rests, %

/// All records; `measure_table()[i].measure` has the value i.
std::span<const MeasureRecord> measure_table();
const MeasureRecord& record(Measure measure);
/// The record of a brief's measure; null when there is none.
const MeasureRecord* find_measure(std::string_view key);

/// Default tolerance of a measure of a curve, in the measure's unit.
double default_tolerance(Measure measure, bike::Curve curve);

}  // namespace trammel::objectives
