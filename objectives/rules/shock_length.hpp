// The shock fits between its eyes as drawn.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Feasibility: nothing that a brief could drop.
struct ShockLength : RuleDefaults {
  /// How closely the drawn eye-to-eye length must match the shock's, mm.
  static constexpr double tolerance = 0.5;
  static constexpr RuleRecord record{"shock eye to eye", "mm", tolerance};
  static constexpr RuleStage stage = RuleStage::drawn;

  /// Eye to eye as drawn, mm; the layout has a shock.
  template <class T>
  static T drawn(const bike::Model& model, const std::vector<math::Vec2<T>>& points) {
    const linkage::Drive& drive = model.layout.mechanism.drive;
    return norm(points[static_cast<std::size_t>(drive.b)] - points[static_cast<std::size_t>(drive.a)]);
  }

  template <class T, class Take>
  static void misses(const Demands& demands, const std::vector<math::Vec2<T>>& points, Take take) {
    if (!demands.model.has_shock()) return;
    const T off = math::abs(drawn(demands.model, points) - T(demands.model.layout.shock->length));
    // The search is asked for half of the tolerance, so that what it finds is safely inside.
    take(T((off - T(0.5 * tolerance)) * T(1.0 / tolerance)));
  }
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
};

}  // namespace trammel::objectives::rules
