// The margins of packaging rules from their misses: what a refinement by constraints takes slopes of.
#pragma once

#include <algorithm>
#include <cmath>

#include "objectives/quantity.hpp"

namespace trammel::objectives {

/// The margin of a rule's verdict, not cut off at 1, and its slope with respect to the miss that it is made from.
struct RuleMargin {
  double value = 0.0, slope = 0.0;
};

namespace detail {

/// Of a miss of distances: `scale` is what a miss of 1 is, `inset` what a search asks for beyond the limit, both in the
/// unit of `depth`.
constexpr RuleMargin in_proportion(double miss, double scale, double inset, double depth) {
  return {(inset - miss * scale) / depth, -scale / depth};
}

/// A depth, or half of a narrow interval.
inline double depth_within(double depth, double lo, double hi) {
  const double half = 0.5 * (hi - lo);
  return half > 0.0 ? std::min(depth, half) : depth;
}

/// The depth of miss number i of the boxes.
inline double box_depth(const Packaging& packaging, std::size_t i) {
  const double depth = rules::Boxes::record.depth;
  for (const Box& box : packaging.boxes)
    for (const std::optional<Interval>& side : {box.x, box.y})
      if (side && i-- == 0) return depth_within(depth, side->lo, side->hi);
  return depth;
}

/// The same of the lengths.
inline double length_depth(const Packaging& packaging, std::size_t i) {
  const double depth = rules::Lengths::record.depth;
  for (const LengthRule& rule : packaging.lengths) {
    const std::size_t misses = (rule.least ? 1 : 0) + (rule.greatest ? 1 : 0);
    if (i < misses) return misses == 2 ? depth_within(depth, *rule.least, *rule.greatest) : depth;
    i -= misses;
  }
  return depth;
}

inline RuleMargin angle_margin(const Packaging& packaging, double miss) {
  // Near a dead point, where the angle has no slope, straight on.
  constexpr double straight = 1e-3;
  const double depth = rules::TransmissionAngle::record.depth, scale = rules::TransmissionAngle::scale;
  const double sine2 = rules::TransmissionAngle::sine2(packaging) - miss * scale;
  const double at = std::clamp(sine2, straight, 1.0 - straight);
  const double slope = math::degrees(0.5 / std::sqrt(at * (1.0 - at)));
  const double angle = math::degrees(std::asin(std::sqrt(at))) + slope * (sine2 - at);
  return {(angle - packaging.least_transmission_angle) / depth, -slope * scale / depth};
}

}  // namespace detail

/// The margin that miss number i of a rule stands for.
template <class Rule>
RuleMargin margin_of(const Demands& demands, std::size_t i, double miss) {
  using namespace rules;
  constexpr double depth = Rule::record.depth;
  if constexpr (std::is_same_v<Rule, TransmissionAngle>)
    return detail::angle_margin(demands.packaging, miss);
  else if constexpr (std::is_same_v<Rule, Boxes>)
    return detail::in_proportion(miss, Rule::scale, 0.0, detail::box_depth(demands.packaging, i));
  else if constexpr (std::is_same_v<Rule, Lengths>)
    return detail::in_proportion(miss, Rule::scale, Rule::inset, detail::length_depth(demands.packaging, i));
  else if constexpr (std::is_same_v<Rule, ShockLength>)
    return detail::in_proportion(miss, Rule::tolerance, 0.5 * Rule::tolerance, depth);
  else if constexpr (std::is_same_v<Rule, WheelRises>)
    return detail::in_proportion(miss, Rule::scale, 0.0, depth);
  else if constexpr (Rule::stage == RuleStage::room)
    return detail::in_proportion(miss, room_scale, room_inset, depth);
  else
    return detail::in_proportion(miss, distance_scale, 0.0, depth);
}

/// Hands the margin of everything that a packaging rule looks at to take(quantity, margin, slope), the last with
/// respect to the quantity. In a fixed order, as many for every layout. What is only judged has no slopes and is left
/// out.
template <class Take>
void each_rule_margin(const Demands& demands, const Outcome<double>& out, Take take) {
  using Miss = math::Dual<2>;
  const auto seen = [](double value) { return Miss::variable(value, 0); };
  std::size_t drawn = 0;
  each_rule_type([&]<class Rule, std::size_t number>() {
    std::size_t i = 0;
    [[maybe_unused]] const auto with_margin = [&](const Quantity& quantity, const Miss& miss) {
      const RuleMargin margin = margin_of<Rule>(demands, i++, miss.v);
      take(quantity, margin.value, margin.slope * miss.d[0]);
    };
    if constexpr (Rule::stage == RuleStage::drawn)
      Rule::misses(demands, out.points, [&](double miss) {
        with_margin(Quantity{Quantity::Kind::drawn, drawn++}, seen(miss));
      });
    else if constexpr (Rule::stage != RuleStage::judged)
      Rule::misses(
          StrokeView<double>{demands, out.fit, Told::all, demands.apart_from[number], demands.apart_from[number + 1]},
          seen, with_margin);
  });
}

}  // namespace trammel::objectives
