// The chain runs to and from its idler: their circles leave it room to.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Feasibility: nothing that a brief could drop.
struct ChainRuns : RuleDefaults {
  static constexpr RuleRecord record{"chain runs past the idler", "mm", 1.0};
  static constexpr RuleStage stage = RuleStage::stroke;
  /// Least margin of a span that a search asks for (see bike::tangent_margin): so that what it finds is safely inside.
  static constexpr double least = 1e-3;
  static constexpr double scale = 0.05;  ///< of that margin

  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    for (std::size_t j = view.demands.model.program.joints.size(); j < view.fit.transmission.size(); ++j) {
      const auto margin = lift(view.fit.transmission[j].value);
      using U = std::decay_t<decltype(margin)>;
      take(Quantity{Quantity::Kind::transmission, j}, (U(least) - margin) * U(1.0 / scale));
    }
  }
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
};

}  // namespace trammel::objectives::rules
