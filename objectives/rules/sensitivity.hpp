// A layout that nobody can build to its drawing is none: no must moves far when a pivot is a little off.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives::rules {

/// Judged where the slopes of what is judged are at hand (`Outcome::sensitivity`), and not steered by: its own slopes
/// would be second derivatives.
struct Sensitivity : RuleDefaults {
  static constexpr RuleRecord record{"sensitivity", "", 1.0};
  static constexpr RuleStage stage = RuleStage::judged;
  /// How far a coordinate is off, mm.
  static constexpr double off = 0.5;

  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void drop(Packaging& packaging, std::size_t item);
};

}  // namespace trammel::objectives::rules
