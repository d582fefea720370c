// Bodies keep their distances from one another over the whole stroke.
#pragma once

#include "objectives/rules/room.hpp"

namespace trammel::objectives::rules {

/// Item i is the i-th clearance, of one body from several. Verdicts come a pair each, in the order of the room's gaps.
struct Clearances : RuleDefaults {
  static constexpr RuleRecord record{"clearance", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::room;

  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    room_misses(view.demands, view.fit.room, 0, view.demands.room.gaps().size(), lift, take);
  }
  static void judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                    RuleJudge& out);
  static std::vector<RuleDemand> demands(const Packaging& packaging, const linkage::Mechanism& mechanism);
  static void drop(Packaging& packaging, std::size_t item);
  static void draw_in(Packaging& packaging, const ErrorReserve& reserve);
};

}  // namespace trammel::objectives::rules
