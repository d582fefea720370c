// What tolerances do to a layout: everything that a report prints of it, already computed.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "bike/curve.hpp"
#include "objectives/target.hpp"

namespace trammel::search {

/// A share of a sample and the 95 % interval of Wilson for the share of all.
struct Share {
  std::int64_t kept = 0;
  std::int64_t of = 0;
  double lo = 0.0;
  double hi = 1.0;
  double share() const { return of > 0 ? static_cast<double>(kept) / static_cast<double>(of) : 0.0; }
};

/// A number that differs from frame to frame.
struct Coordinate {
  std::string name;         ///< "eye.x", "shock length", "rear wheel radius"
  double plus_minus = 0.0;  ///< mm
  double deviation = 0.0;   ///< standard deviation, mm
};

/// A target over all frames that assemble: its value where the layout as drawn is judged, which for a stretch is the
/// place that comes nearest to breaking the wish; with settings and sizes in the case that comes out worst.
struct TargetSpread {
  double nominal = 0.0;        ///< in the target's unit, like all below
  double mean = 0.0;           ///< of the sample
  double deviation = 0.0;      ///< standard deviation of the sample
  double first_order = 0.0;    ///< the same from the slopes: √Σ(slope·deviation of a coordinate)²
  double low = 0.0;            ///< 5 % of the frames are below
  double high = 0.0;           ///< 5 % are above
  Share met;                   ///< frames that meet the wish, at every place and in every case
  std::vector<double> slopes;  ///< one a coordinate: by how much the value changes per mm
};

/// A rule of packaging or feasibility.
struct RuleShare {
  std::string name;
  Share met;
};

/// A curve over all frames that assemble.
struct CurveBand {
  bike::CurveKey key;
  std::vector<double> low, high;  ///< 5 % are below, 5 % above, at ToleranceSheet::fractions
};

/// One effect of a coordinate on a target.
struct Effect {
  std::size_t target = 0;
  std::size_t coordinate = 0;
  double slope = 0.0;       ///< in the target's unit per mm
  double tolerances = 0.0;  ///< what the coordinate's ± does to it, in the target's tolerances, ≥ 0
};

struct ToleranceSheet {
  Share yield;                          ///< frames that keep every must and rule
  std::int64_t unassembled = 0;         ///< of them, how many do not assemble
  std::vector<Coordinate> coordinates;  ///< those with a ± above 0
  std::vector<TargetSpread> targets;    ///< in the brief's order
  std::vector<RuleShare> rules;         ///< in the order of the assessment
  std::vector<double> fractions;        ///< of wheel travel
  std::vector<CurveBand> bands;         ///< of the first case
  std::vector<Effect> effects;          ///< of all coordinates on all targets, greatest first
};

/// What a yield counts, in words: "every must and rule".
std::string what_is_kept(const std::vector<objectives::Target>& targets);

}  // namespace trammel::search
