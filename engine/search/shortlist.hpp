// From all committed units to the study as its reader wants it.
#pragma once

#include <atomic>
#include <optional>
#include <stdexcept>

#include "search/setup.hpp"
#include "search/sheet.hpp"
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
  Picker(int count, double distinct, std::int64_t linkages = 1)
      : count_(count), distinct_(distinct), best_(static_cast<std::size_t>(linkages)) {}
  /// Looks at the next layout in order of merit. False once no further one could be picked.
  bool offer(const store::LayoutRow& row);
  std::vector<store::LayoutRow> picked() const;
  /// How many would be picked if there were one linkage.
  int count() const { return static_cast<int>(picked_.size()); }

 private:
  int count_;
  double distinct_;
  std::vector<store::LayoutRow> picked_;
  std::vector<std::optional<store::LayoutRow>> best_;  ///< one a linkage
};

/// The same over layouts in order of merit.
std::vector<store::LayoutRow> pick_distinct(const std::vector<store::LayoutRow>& ranked, int count, double distinct);

/// Ids of the shortlist that units 0 … `past` − 1 of a study make, best first.
std::vector<std::string> shortlist_ids(const Setup& setup, const store::StudyFile& file, std::int64_t past);

/// The user asked to stop at once.
struct Stopped : std::runtime_error {
  Stopped() : std::runtime_error("stopped") {}
};

/// A stand-alone layout judged and traced in all its settings and sizes, for reports and comparisons. Throws
/// bike::MotionFailure.
Sheet make_sheet(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                 const objectives::Packaging& packaging);

/// The whole report of a study, from its file. Takes little memory, however many layouts the file holds. Throws Stopped
/// once `stop` reads true.
StudyReport make_report(const Setup& setup, const store::StudyFile& file, const std::string& study_name,
                        const std::atomic<bool>* stop = nullptr);

}  // namespace trammel::search
