// Round parts that every bike has and no brief needs to draw: the rear tyre, the frame's pivots, the shock's body. In
// side view; they hold by default (sound.hpp). The sizes are common practice, no source.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Diameter of a pivot with its bearing and housing, mm.
inline constexpr double pivot_diameter = 22.0;
/// Diameter of a shock's body, mm, and the shares of the line from eye to eye that it takes: nothing is known of which
/// way round it is built in.
inline constexpr double shock_diameter = 45.0;
inline constexpr double shock_from = 0.15, shock_to = 0.85;

/// The rear tyre keeps clear of the frame's pivots and of the shock: stays straddle a tyre, they do not. Nothing is
/// said of the pivot that carries the axle.
struct TyreClearance {
  static constexpr RuleRecord record{"tyre clearance", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::stroke;

  static double least(const Demands& demands, std::size_t k) {
    return demands.model.layout.rear_radius + demands.apart[k].radii + *demands.packaging.tyre_clearance;
  }
  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    distance_misses(
        view, lift, [&](std::size_t k) { return least(view.demands, k); }, take);
  }
  static std::vector<Watched> watches(const bike::Model& model, const Packaging& packaging);
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void loosen(Packaging& packaging, std::size_t item, double amount);
  static void drop(Packaging& packaging, std::size_t item);
  static void draw_in(Packaging& packaging, const ErrorReserve& reserve);
  static void prove(const Packaging&, const linkage::Mechanism&, const PointRanges&, std::vector<std::string>&) {}
};

/// The shock's body keeps clear of the frame's pivots but those that it hangs on.
struct ShockClearance {
  static constexpr RuleRecord record{"shock clearance", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::stroke;

  static double least(const Demands& demands, std::size_t k) {
    return demands.apart[k].radii + *demands.packaging.shock_clearance;
  }
  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    distance_misses(
        view, lift, [&](std::size_t k) { return least(view.demands, k); }, take);
  }
  static std::vector<Watched> watches(const bike::Model& model, const Packaging& packaging);
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void loosen(Packaging& packaging, std::size_t item, double amount);
  static void drop(Packaging& packaging, std::size_t item);
  static void draw_in(Packaging& packaging, const ErrorReserve& reserve);
  static void prove(const Packaging&, const linkage::Mechanism&, const PointRanges&, std::vector<std::string>&) {}
};

}  // namespace trammel::objectives::rules
