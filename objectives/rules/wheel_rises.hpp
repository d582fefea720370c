// The wheel rises as long as the shock moves.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Feasibility: nothing that a brief could drop.
struct WheelRises : RuleDefaults {
  static constexpr RuleRecord record{"wheel rises with the shock", "", 0.2};
  static constexpr RuleStage stage = RuleStage::stroke;
  /// Least leverage ratio: under it the wheel is taken to stop rising before the shock is through.
  static constexpr double least = 0.2;
  static constexpr double scale = 0.2;  ///< of the ratio

  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    if (!view.demands.model.has_shock()) return;
    const auto slope = lift(view.fit.slope.value);
    using U = std::decay_t<decltype(slope)>;
    take(Quantity{Quantity::Kind::slope}, (U(least) - slope) * U(1.0 / scale));
  }
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
};

}  // namespace trammel::objectives::rules
