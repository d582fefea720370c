// What a brief asks for: a curve or measure, where in the travel, and what is wished of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bike/curve.hpp"

namespace trammel::objectives {

/// A place in the travel.
struct Station {
  enum class Kind {
    topped_out,
    sag,  ///< the layout's sag, of wheel travel or of shock stroke as the layout says
    bottomed,
    travel,    ///< `amount` mm of wheel travel
    fraction,  ///< `amount` of the whole wheel travel, 0 … 1
  };
  Kind kind = Kind::sag;
  double amount = 0.0;
};

/// A stretch of the travel, in fractions of wheel travel, 0 ≤ from < to ≤ 1.
struct Stretch {
  double from = 0.0;
  double to = 1.0;
};

/// What is wished. For `band` lo ≤ y ≤ hi; `ceiling` y ≤ hi; `floor` y ≥ lo; `value` |y − lo| ≤ tolerance (hi = lo);
/// `follow` |y − f| ≤ tolerance with f piecewise linear through `path`, (fraction of travel, value).
struct Wish {
  enum class Kind { band, ceiling, floor, value, follow };
  Kind kind = Kind::band;
  double lo = 0.0;
  double hi = 0.0;
  std::vector<std::pair<double, double>> path;  ///< follow: at least two points, fractions rising
};

enum class Measure {
  progressivity,  ///< (LR(from) − LR(to)) / LR(from)
};

struct Target {
  std::string name;  ///< the brief's own, or made from curve and place; unique within a brief
  bike::CurveKey curve;
  std::optional<Measure> measure;  ///< when set, `curve` is ignored
  /// Exactly one applies: `at` for a curve at a station; `over` for a curve over a stretch; `at` and `to` for a
  /// measure between two stations.
  Station at;
  Station to{Station::Kind::bottomed, 0.0};
  std::optional<Stretch> over;
  Wish wish;
  double tolerance = 1.0;  ///< scale of the residual in the curve's unit, > 0
  double weight = 1.0;     ///< > 0
  bool must = false;
  std::string in = {};  ///< the setting or size in which it holds; empty = in all
};

}  // namespace trammel::objectives
