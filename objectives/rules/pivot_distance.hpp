// Two pivots, or an idler and a pivot, need room for two bearings.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

struct PivotDistance : RuleDefaults {
  static constexpr RuleRecord record{"least pivot distance", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::stroke;
  /// Pivots drawn no further apart than this share a pin, or lie on one axis, and are no pair, mm.
  static constexpr double one_axis = 1.0;

  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    distance_misses(
        view, lift, [&](std::size_t) { return *view.demands.packaging.least_pivot_distance; }, take);
  }
  static std::vector<Watched> watches(const bike::Model& model, const Packaging& packaging);
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void drop(Packaging& packaging, std::size_t item);
  static void draw_in(Packaging& packaging, const ErrorReserve& reserve);
  static void prove(const Packaging& packaging, const linkage::Mechanism& mechanism, const PointRanges& ranges,
                    std::vector<std::string>& out);
};

/// Pivots are the points that members share and the shock's eyes; every two of them make a pair but those on one axis.
std::vector<std::pair<int, int>> pivot_pairs(const linkage::Mechanism& mechanism);

}  // namespace trammel::objectives::rules
