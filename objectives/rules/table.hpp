// The table of packaging rules: adding one is its file and its line here. All that asks for every rule goes through it.
#pragma once

#include <array>
#include <span>
#include <tuple>
#include <utility>

#include "objectives/rules/boxes.hpp"
#include "objectives/rules/chain_runs.hpp"
#include "objectives/rules/clearances.hpp"
#include "objectives/rules/lengths.hpp"
#include "objectives/rules/pivot_distance.hpp"
#include "objectives/rules/regions.hpp"
#include "objectives/rules/round_parts.hpp"
#include "objectives/rules/sensitivity.hpp"
#include "objectives/rules/shock_length.hpp"
#include "objectives/rules/transmission_angle.hpp"
#include "objectives/rules/wheel_rises.hpp"

namespace trammel::objectives {

/// In the order of verdicts.
using Rules = std::tuple<rules::TransmissionAngle,  //
                         rules::ChainRuns,          //
                         rules::PivotDistance,      //
                         rules::TyreClearance,      //
                         rules::ShockClearance,     //
                         rules::WheelRises,         //
                         rules::Clearances,         //
                         rules::Regions,            //
                         rules::Boxes,              //
                         rules::Lengths,            //
                         rules::ShockLength,        //
                         rules::Sensitivity>;
inline constexpr std::size_t rule_count = std::tuple_size_v<Rules>;

/// Calls take.template operator()<Rule, number>() for every rule.
template <class Take>
void each_rule_type(Take take) {
  [&]<std::size_t... i>(std::index_sequence<i...>) {
    (take.template operator()<std::tuple_element_t<i, Rules>, i>(), ...);
  }
  (std::make_index_sequence<rule_count>{});
}

namespace detail {
template <class Rule, std::size_t... i>
constexpr std::size_t number_of(std::index_sequence<i...>) {
  return ((std::is_same_v<Rule, std::tuple_element_t<i, Rules>> ? i : 0) + ...);
}
}  // namespace detail
/// A rule's number, as verdicts and demands name it.
template <class Rule>
inline constexpr std::size_t rule_number = detail::number_of<Rule>(std::make_index_sequence<rule_count>{});

/// A rule's functions that take no number type, by its number.
struct RuleFunctions {
  const RuleRecord* record;
  std::vector<Watched> (*watches)(const bike::Model&, const Packaging&);
  void (*judge)(const Demands&, const Outcome<double>&, std::size_t first, std::size_t last, RuleJudge&);
  std::vector<RuleDemand> (*demands)(const Packaging&, const linkage::Mechanism&);
  void (*drop)(Packaging&, std::size_t item);
  void (*draw_in)(Packaging&, const ErrorReserve&);
  void (*prove)(const Packaging&, const linkage::Mechanism&, const PointRanges&, std::vector<std::string>&);
};
std::span<const RuleFunctions, rule_count> rule_table();

/// Hands the misses of the rules on points as drawn to take(miss).
template <class T, class Take>
void drawn_misses(const Demands& demands, const std::vector<math::Vec2<T>>& points, Take take) {
  each_rule_type([&]<class Rule, std::size_t number>() {
    if constexpr (Rule::stage == RuleStage::drawn) Rule::misses(demands, points, take);
  });
}

/// Hands the misses of the rules of a stage along the stroke to take(quantity, miss); `lift` makes of a watched number
/// the one that misses are computed in.
template <RuleStage stage, class T, class Lift, class Take>
void stroke_misses(const Demands& demands, const Fit<T>& fit, Told told, Lift lift, Take take) {
  each_rule_type([&]<class Rule, std::size_t number>() {
    if constexpr (Rule::stage == stage)
      Rule::misses(StrokeView<T>{demands, fit, told, demands.apart_from[number], demands.apart_from[number + 1]}, lift,
                   take);
  });
}

}  // namespace trammel::objectives
