// Least and greatest lengths between points as drawn, such as a link's.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Item i is the i-th length, with both of its limits.
struct Lengths : RuleDefaults {
  static constexpr RuleRecord record{"length", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::drawn;
  static constexpr double scale = 1.0;  ///< mm
  /// A search keeps lengths so far inside their limits, mm: a penalty leaves its minimum just outside one that binds.
  static constexpr double inset = 0.02;

  template <class T, class Take>
  static void misses(const Demands& demands, const std::vector<math::Vec2<T>>& points, Take take) {
    for (const LengthRule& rule : demands.packaging.lengths) {
      const T length = norm(points[static_cast<std::size_t>(rule.to)] - points[static_cast<std::size_t>(rule.from)]);
      if (rule.least) take(T((T(*rule.least + inset) - length) * T(1.0 / scale)));
      if (rule.greatest) take(T((length - T(*rule.greatest - inset)) * T(1.0 / scale)));
    }
  }
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void drop(Packaging& packaging, std::size_t item);
  static void draw_in(Packaging& packaging, const ErrorReserve& reserve);
  static void prove(const Packaging& packaging, const linkage::Mechanism& mechanism, const PointRanges& ranges,
                    std::vector<std::string>& out);
};

}  // namespace trammel::objectives::rules
