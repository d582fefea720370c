// Short searches of briefs that are made from a study's, and all the layouts that they have come upon.
#pragma once

#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "search/demand.hpp"
#include "search/effort.hpp"
#include "search/setup.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// A layout that a search came upon, with what it misses of the whole brief.
struct Known {
  store::LayoutRow row;
  objectives::Assessment assessment;
  std::vector<Miss> misses;
};

/// A layout that a search of a changed brief found to meet every must of it.
struct Tried {
  store::LayoutRow row;
  objectives::Assessment assessment;  ///< by the study's own brief
};

class CloserLook {
 public:
  /// `setup` is the whole study's; its linkage numbered `linkage` is looked at. `near` are layouts of that linkage to
  /// begin with. All must outlive it.
  CloserLook(const Setup& setup, std::int64_t linkage, const std::vector<store::LayoutRow>& near, const Effort& effort);

  const brief::Brief& own() const { return own_.brief; }
  const std::vector<Demand>& demands() const { return demands_; }
  const std::deque<Known>& known() const { return known_; }
  /// Work units of each search.
  int units() const { return units_; }

  /// A layout that meets these demands, whatever else it misses: one that is known, or one that a search of a brief
  /// with nothing but these finds. Null when none was found.
  const Known* meets(const std::vector<Demand>& demands);
  /// Of the layouts that meet `kept` the one that misses `wished` least: the sum of squares of the misses, each over
  /// its demand's step. Searches with `kept` as musts and `wished`, where they are targets, as the only wishes.
  const Known* nearest(const std::vector<Demand>& kept, const std::vector<Demand>& wished);
  /// Whether a study of this text would find a layout that meets every must: searches it as that study would, for as
  /// many units as these searches have, or `thorough` for more, as far as the text's own plan goes.
  std::optional<Tried> tried(const std::string& text, bool thorough) const;

 private:
  /// Runs the units of a brief of this linkage; all layouts that they find become known. Stops early when one meets
  /// `until`, where there is any.
  void search(const brief::Brief& brief, const std::vector<Demand>* until);
  void remember(std::vector<store::LayoutRow> rows);
  const Known* among_known(const std::vector<Demand>& demands) const;

  const Setup& setup_;
  std::int64_t linkage_;
  const Setup& own_;
  const Effort& effort_;
  std::vector<Demand> demands_;
  std::deque<Known> known_;  ///< that grows at its end only, so that its entries stay where they are
  int units_ = 0;
};

/// Whether a layout meets these demands, and everything that cannot be dropped.
bool meets(const Known& known, const std::vector<Demand>& demands);

}  // namespace trammel::search
