// What a brief asks for: a curve or measure, where in the travel, and what is wished of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "objectives/measure.hpp"
#include "objectives/origin.hpp"
#include "objectives/relative.hpp"

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
/// `follow` |y − f| ≤ tolerance with f piecewise linear through `path`, (fraction of travel, value); `under` y ≤ f;
/// `over` y ≥ f.
struct Wish {
  enum class Kind { band, ceiling, floor, value, follow, under, over };
  Kind kind = Kind::band;
  double lo = 0.0;
  double hi = 0.0;
  std::vector<std::pair<double, double>> path;  ///< at least two points where it is along one, fractions rising
  /// Whether what is wished changes along the travel.
  bool along_path() const { return kind == Kind::follow || kind == Kind::under || kind == Kind::over; }
};

/// Two settings or two sizes whose difference is judged, second − first; both empty: how far all of them are apart,
/// greatest − least.
struct Between {
  enum class Of { settings, sizes };
  Of of = Of::settings;
  std::string first = {}, second = {};
  friend bool operator==(const Between&, const Between&) = default;
};

struct Target {
  std::string name;                ///< the brief's own, or made from curve and place; unique within a brief
  bike::CurveKey curve;            ///< with several gears, of the first
  std::optional<Measure> measure;  ///< of the curve
  /// Exactly one applies: `at` for a curve at a station; `over` for a curve or measure over a stretch; `at` and `to`
  /// for a measure between two stations.
  Station at;
  Station to{Station::Kind::bottomed, 0.0};
  std::optional<Stretch> over;
  Wish wish;
  double tolerance = 1.0;  ///< scale of the residual in the curve's unit, > 0
  double weight = 1.0;     ///< > 0
  bool must = false;
  std::string in = {};                               ///< the setting or size in which it holds; empty = in all
  std::vector<int> gears = {};                       ///< gears in each of which it holds; empty = that of `curve`
  double crosses = 0.0;                              ///< crossing: the level
  std::vector<std::pair<double, double>> path = {};  ///< path deviation: points (x, y) in frame axes, mm, y rising
  Origin origin = Origin::brief;
  std::optional<Relative> relative = {};  ///< where the wish comes from, when another layout tells it
  std::optional<Between> between = {};    ///< when not a value is judged but a difference between cases
};

/// The curves that a target sees: its own in each of its gears, and what else its measure is made of.
std::vector<bike::CurveKey> curves_of(const Target& target);

/// How many of the targets are the brief's own: they come first.
std::size_t own_targets(const std::vector<Target>& targets);

/// The unit of what is judged: mm, °, %, N/mm², or empty for a ratio.
std::string unit_of(const Target& target);
/// Whether what is judged is decided at one place of the travel.
bool has_place(const Target& target);
/// Whether both judge the same number but for where: measure, curve, gears, level and path.
bool same_quantity(const Target& a, const Target& b);

}  // namespace trammel::objectives
