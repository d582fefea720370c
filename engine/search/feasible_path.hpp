// Straight paths between layouts of one choice, and how far along them every must and packaging rule is kept.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "search/score.hpp"

namespace trammel::search {

/// A setup's demands of one choice with the wishes left out, by the same tapes. `setup` must outlive them.
std::vector<objectives::Demands> musts_of(const Setup& setup, int choice);

/// Per-task workspace of one choice.
///
/// A place is feasible when the layout there, assembled on the branches of the path's start, meets every must and rule
/// in every setting and size. Clearances count at the stations of the stroke and near the closest of them, as in a
/// refinement; the middle of a whole path, and where one that is cut short ends, is judged as a report judges it, with
/// the clearances over the whole stroke and what takes slopes. What is shown is shown for the places looked at, not for
/// those between.
class FeasiblePath {
 public:
  /// Steps of a path; layouts between are looked at after each.
  static constexpr int steps = 128;

  /// `setup` must outlive it.
  FeasiblePath(const Setup& setup, int choice);
  FeasiblePath(const FeasiblePath&) = delete;  // its scorer points to its demands
  FeasiblePath& operator=(const FeasiblePath&) = delete;

  /// Whether all places between two feasible designs are feasible.
  bool straight(std::span<const double> from, std::span<const double> to);
  /// How far the path leads from a feasible design before a place is not feasible, as a share of it, 0 … 1.
  double reach(std::span<const double> from, std::span<const double> to);
  /// A design to which straight paths lead from both, where none does from one to the other: sought beside the middle
  /// of what is in between. Absent when that leads nowhere.
  std::optional<std::vector<double>> waypoint(std::span<const double> from, std::span<const double> to);

 private:
  /// How many of the places number `first` to `last`, by `by`, are feasible before the first that is not.
  int good(std::span<const double> from, std::span<const double> to, int first, int last, int by);
  double judged_reach(std::span<const double> from, std::span<const double> to, int k);
  static std::vector<double> place(std::span<const double> from, std::span<const double> to, int k);
  bool place_is_feasible(std::span<const double> x, const objectives::Screened& screened);
  bool feasible(std::span<const double> x) { return scorer_.assessment(x).feasible(); }
  std::vector<bool> branches_at(std::span<const double> x);
  std::vector<double> aside(const std::vector<double>& start, const std::vector<double>& along, double inset);

  const Setup& setup_;
  int choice_;
  std::vector<objectives::Demands> demands_;
  Scorer scorer_;
  bool room_ = false;  ///< whether clearances are asked for
  std::vector<double> places_;
  std::vector<math::Vec2<double>> points_;
};

}  // namespace trammel::search
