// Finds how much must give way, and tries it on the whole brief.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "search/closer_look.hpp"
#include "search/way_out.hpp"

namespace trammel::search {

class Ways {
 public:
  /// `own` is the setup of the linkage that is looked at, of the study's `setup`. All must outlive it.
  Ways(const Setup& setup, const Setup& own, CloserLook& look);

  /// A way out in which these demands give, and others where that is not enough.
  std::optional<WayOut> beginning_with(const std::vector<Demand>& first) const;
  /// Whether nothing gives in a way out but this demand.
  bool only(const WayOut& way, const Demand& demand) const;
  /// The least by which a layout misses a demand that meets all others.
  std::optional<Miss> least_miss(const Demand& demand) const;

 private:
  /// Adds what the layout that misses the fewest others misses.
  bool let_go(std::vector<Demand>& giving) const;
  /// The brief's text once the demands have given.
  std::string text_of(const std::vector<Give>& gives) const;
  std::optional<WayOut> tried(std::vector<Give> gives, bool thorough = false) const;
  /// Gives as much as a layout misses, more where a search of the whole brief then finds nothing, and less again where
  /// it does.
  std::optional<WayOut> settled(const Known& nearest) const;
  /// Leaves out what gives little, as long as a search of the whole brief still finds something.
  WayOut fewer(WayOut way, std::vector<double>& too_little) const;
  /// Gives less again, one demand after the other, likewise. A search keeps room in the other musts and so misses a
  /// target by more than it must; a rule's miss nothing has made least.
  WayOut less(WayOut way, const std::vector<double>& too_little) const;

  const Setup& setup_;
  const Setup& own_;
  CloserLook& look_;
  brief::Node text_;
};

}  // namespace trammel::search
