// All that is asked of a layout, made ready for one model: shared by all tasks, never changed.
#pragma once

#include <memory>

#include "bike/motion_tapes.hpp"
#include "objectives/figure.hpp"
#include "objectives/fit.hpp"
#include "objectives/places.hpp"
#include "objectives/room_rules.hpp"

namespace trammel::objectives {

/// Intervals of a march: dead points and pivot distances are watched at its ends. 24 stations fill three packs.
inline constexpr int march_intervals = 23;

struct Demands {
  /// All three must outlive it. Tapes are made for the model as it is: it must not change.
  Demands(const bike::Model& of, const std::vector<Target>& asked, const Packaging& around);
  /// The same with other limits in the packaging, by the same tapes. What `like` points to must outlive it, too.
  Demands(const Demands& like, const Packaging& around);
  /// For a model whose sizes may change between layouts, or for few of them: they move by the kernel, and no slopes can
  /// be asked for.
  static Demands without_tapes(const bike::Model& of, const std::vector<Target>& asked, const Packaging& around);

  const bike::Model& model;
  const std::vector<Target>& targets;
  const Packaging& packaging;
  Places places;
  std::vector<bike::Locus> loci;        ///< where each place is
  std::vector<Watched> apart;           ///< distances watched along the stroke, rule by rule
  std::vector<std::size_t> apart_from;  ///< where those of each rule begin, and where the last ones end
  bike::Room room;
  std::vector<std::vector<Allowed>> allowed;  ///< what each target allows of each of its judged values
  std::shared_ptr<const bike::MotionTapes> tapes;

 private:
  struct Bare {};
  Demands(Bare, const bike::Model& of, const std::vector<Target>& asked, const Packaging& around);
};

}  // namespace trammel::objectives
