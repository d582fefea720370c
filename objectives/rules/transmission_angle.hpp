// No joint comes near a dead point.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Errors in making draw nothing in: the angle's own deviation is not known where that is asked.
struct TransmissionAngle : RuleDefaults {
  static constexpr RuleRecord record{"least transmission angle", "°", 5.0};
  static constexpr RuleStage stage = RuleStage::stroke;
  /// Scale of the miss, in sin² of the angle.
  static constexpr double scale = 0.05;
  /// What is left of the rule when it is dropped, degrees: a layout must assemble all the same.
  static constexpr double nothing = 0.1;

  static double sine2(const Packaging& packaging) {
    const double sine = math::sin(math::radians(packaging.least_transmission_angle));
    return sine * sine;
  }

  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    const double least = sine2(view.demands.packaging);
    for (std::size_t j = 0; j < view.demands.model.program.joints.size(); ++j) {
      const auto sine2 = lift(view.fit.transmission[j].value);
      using U = std::decay_t<decltype(sine2)>;
      take(Quantity{Quantity::Kind::transmission, j}, (U(least) - sine2) * U(1.0 / scale));
    }
  }
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void drop(Packaging& packaging, std::size_t item);
};

}  // namespace trammel::objectives::rules
