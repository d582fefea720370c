// All that is asked of a layout, made ready for one model: shared by all tasks, never changed.
#pragma once

#include "bike/motion_formulas.hpp"
#include "objectives/figure.hpp"
#include "objectives/fit.hpp"
#include "objectives/places.hpp"
#include "objectives/room_rules.hpp"

namespace trammel::objectives {

/// Intervals of a march: dead points and pivot distances are watched at its ends. 24 stations fill three packs.
inline constexpr int march_intervals = 23;

struct Demands {
  /// All three must outlive it.
  Demands(const bike::Model& of, const std::vector<Target>& asked, const Packaging& around);

  const bike::Model& model;
  const std::vector<Target>& targets;
  const Packaging& packaging;
  Places places;
  std::vector<bike::Locus> loci;  ///< where each place is
  std::vector<PivotPair> pairs;
  bike::Room room;
  bike::MotionFormulas formulas;
  std::vector<std::vector<Allowed>> allowed;  ///< what each target allows of each of its judged values
};

}  // namespace trammel::objectives
