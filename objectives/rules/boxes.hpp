// Boxes that points must lie in, topped out.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Item 2·i is the x of box number i, 2·i + 1 its y.
struct Boxes : RuleDefaults {
  static constexpr RuleRecord record{"box", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::drawn;
  static constexpr double scale = 1.0;  ///< mm

  template <class T, class Take>
  static void misses(const Demands& demands, const std::vector<math::Vec2<T>>& points, Take take) {
    for (const Box& box : demands.packaging.boxes) {
      const auto& p = points[static_cast<std::size_t>(box.point)];
      const auto outside = [&](const Interval& i, const T& x) {
        take(T(math::max(T(i.lo) - x, x - T(i.hi)) * T(1.0 / scale)));
      };
      if (box.x) outside(*box.x, p.x);
      if (box.y) outside(*box.y, p.y);
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
