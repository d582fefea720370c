// Points that stay inside a region of the frame over the whole stroke.
#pragma once

#include "objectives/rules/room.hpp"

namespace trammel::objectives::rules {

/// Item i is the i-th region.
struct Regions : RuleDefaults {
  static constexpr RuleRecord record{"kept in", "mm", 4.0};
  static constexpr RuleStage stage = RuleStage::room;

  template <class T, class Lift, class Take>
  static void misses(const StrokeView<T>& view, Lift lift, Take take) {
    room_misses(view.demands, view.fit.room, view.demands.room.gaps().size(), view.demands.room.measures(), lift, take);
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
