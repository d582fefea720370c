// Round parts that every bike has and no brief needs to draw: the rear tyre, the frame's pivots, the shock's body. In
// side view; they hold by default (sound.hpp). The sizes are common practice, no source.
#pragma once

#include <optional>
#include <string>

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Diameter of a pivot with its bearing and housing, mm.
inline constexpr double pivot_diameter = 22.0;
/// Diameter of a shock's body, mm, and the shares of the line from eye to eye that it takes: nothing is known of which
/// way round it is built in.
inline constexpr double shock_diameter = 45.0;
inline constexpr double shock_from = 0.15, shock_to = 0.85;

/// What both rules are but for which pairs they watch: `clearance` is the least distance that the packaging asks for.
template <class Rule, std::optional<double> Packaging::*clearance>
struct KeptClear : RuleDefaults {
  static constexpr RuleStage stage = RuleStage::stroke;

  /// Least distance of pair number k of what is watched, mm.
  static double least(const Demands& demands, std::size_t k) {
    return Rule::radius(demands.model) + demands.apart[k].radii + *(demands.packaging.*clearance);
  }
  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    distance_misses(
        view, lift, [&](std::size_t k) { return least(view.demands, k); }, take);
  }
  /// One verdict, on the pair that comes out worst.
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void drop(Packaging& packaging, std::size_t) { (packaging.*clearance).reset(); }
  static void draw_in(Packaging& packaging, const ErrorReserve& reserve) {
    if (packaging.*clearance) *(packaging.*clearance) += reserve.of_distance();
  }
};

/// The rear tyre keeps clear of the frame's pivots and of the shock: stays straddle a tyre, they do not. Nothing is
/// said of the pivot that carries the axle.
struct TyreClearance : KeptClear<TyreClearance, &Packaging::tyre_clearance> {
  static constexpr RuleRecord record{"tyre clearance", "mm", 4.0};
  static constexpr const char* what = "tyre";

  static double radius(const bike::Model& model) { return model.layout.rear_radius; }
  /// What the tyre comes near to in a pair.
  static std::string other(const linkage::Mechanism& mechanism, const bike::Separation& pair) {
    return pair.from == pair.to ? point_name(mechanism, pair.from) : "shock";
  }
  static std::vector<Watched> watches(const bike::Model& model, const Packaging& packaging);
};

/// The shock's body keeps clear of the frame's pivots but those that it hangs on.
struct ShockClearance : KeptClear<ShockClearance, &Packaging::shock_clearance> {
  static constexpr RuleRecord record{"shock clearance", "mm", 4.0};
  static constexpr const char* what = "shock";

  static double radius(const bike::Model&) { return 0.0; }
  static std::string other(const linkage::Mechanism& mechanism, const bike::Separation& pair) {
    return point_name(mechanism, pair.point);
  }
  static std::vector<Watched> watches(const bike::Model& model, const Packaging& packaging);
};

}  // namespace trammel::objectives::rules
