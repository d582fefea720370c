// Layouts in order of merit, and the best of them that differ.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "search/feel.hpp"
#include "search/setup.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// "unit-place": a layout's name, stable for a brief and seed.
std::string layout_id(const store::LayoutRow& row);

/// All layouts in order of merit.
std::vector<store::LayoutRow> ranked(const std::vector<store::UnitRow>& units);

/// The best layouts that differ: each at least `distinct` (RMS over the ranges) from every better one of the same
/// linkage and choice. At most `count`; layouts that miss a must appear only when no layout meets them all. Of several
/// linkages, the best layout of each that could appear does: the last ones make room for it, and where there are more
/// linkages than `count` there are more layouts.
class Picker {
 public:
  explicit Picker(int count, double distinct, std::int64_t linkages = 1)
      : count_(count), distinct_(distinct), best_(static_cast<std::size_t>(linkages)) {}
  /// The same, and each also at least `distinct_curves` from every better one of its linkage in what `feel`, which must
  /// outlive it, tells of both: two layouts that ride alike are one choice, however far apart their pivots.
  Picker(int count, double distinct, std::int64_t linkages, double distinct_curves, Feel& feel)
      : count_(count),
        distinct_(distinct),
        distinct_curves_(distinct_curves),
        feel_(&feel),
        best_(static_cast<std::size_t>(linkages)) {}
  /// Of layouts that miss a must: two that miss the same by as much, as `alike` says of them, are listed together only
  /// when they are twice as far apart in their pivots.
  void tell_misses_by(std::function<bool(const store::LayoutRow&, const store::LayoutRow&)> alike) {
    alike_ = std::move(alike);
  }
  /// Looks at the next layout in order of merit. False once no further one could be picked.
  bool offer(const store::LayoutRow& row);
  std::vector<store::LayoutRow> picked() const;
  /// How many would be picked if there were one linkage.
  int count() const { return static_cast<int>(picked_.size()); }

 private:
  bool feels_apart(const store::LayoutRow& row);
  bool misses_apart(const store::LayoutRow& row) const;

  int count_;
  double distinct_, distinct_curves_ = 0.0;
  Feel* feel_ = nullptr;
  std::function<bool(const store::LayoutRow&, const store::LayoutRow&)> alike_;
  std::vector<store::LayoutRow> picked_;
  std::vector<std::vector<double>> felt_;              ///< of the picked, when it matters
  std::vector<std::optional<store::LayoutRow>> best_;  ///< one a linkage
};

/// The same over layouts in order of merit.
std::vector<store::LayoutRow> pick_distinct(const std::vector<store::LayoutRow>& ranked, int count, double distinct);

/// Picks a study's shortlist; where it is ordered by yield, four times as many, of which the best are to be taken.
Picker shortlist_picker(const Setup& setup, Feel& feel);

}  // namespace trammel::search
