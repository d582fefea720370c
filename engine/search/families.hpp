// Families: layouts that meet every must, sorted by which can be led over into which without missing one on the path.
//
// Two layouts are of one family when a chain of feasible paths joins them, each straight in the unit box or straight to
// a waypoint and on (search/feasible_path.hpp). Layouts of different linkages, discrete choices or assembly branches
// are of different families. A chain that was found proves that they belong together, as far as the places looked at
// do; that none was found proves nothing.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "search/effort.hpp"
#include "search/encounters.hpp"
#include "search/family_sheet.hpp"
#include "search/feasible_path.hpp"
#include "search/setup.hpp"
#include "store/study_file.hpp"

namespace trammel::search {

/// Layouts of one linkage, choice and assembly branch. For one thread.
class FeasibleComponents {
 public:
  /// So many layouts are looked at; further ones are only counted.
  static constexpr std::size_t most_layouts = 400;

  /// `setup` is the linkage's own and must outlive it.
  FeasibleComponents(const Setup& setup, int choice);

  void add(const store::LayoutRow& row);
  /// Joins what was added since the last call to the rest, then families to one another.
  void join(const Effort& effort);
  /// Whether the last call of `join` brought a family without any layout of before.
  bool brought_a_family() const;

  const Setup& setup() const { return setup_; }
  int choice() const { return choice_; }
  const std::vector<store::LayoutRow>& rows() const { return rows_; }
  /// The families' layouts, by number, rising; families by their first.
  std::vector<std::vector<std::size_t>> families() const;
  std::int64_t paths() const { return paths_; }
  bool all_tried() const { return all_tried_; }

 private:
  struct Pair {
    double distance;
    std::size_t one, other;
    auto operator<=>(const Pair&) const = default;
  };

  std::size_t root(std::size_t i) const;
  void unite(std::size_t i, std::size_t j);
  std::vector<Pair> neighbours() const;
  using Pairs = std::set<std::pair<std::size_t, std::size_t>>;
  std::vector<Pair> between_families(std::size_t most, const Pairs& but) const;
  bool join_straight(const Effort& effort, const std::vector<Pair>& pairs);
  bool join_by_waypoint(const Effort& effort);

  const Setup& setup_;
  int choice_;
  std::unique_ptr<FeasiblePath> path_;  ///< made when first needed
  std::vector<store::LayoutRow> rows_;
  std::vector<std::size_t> parent_;
  std::size_t joined_ = 0, before_ = 0;  ///< layouts that have been joined, and before the last call
  Pairs tried_, tried_by_waypoint_;
  std::int64_t paths_ = 0;
  bool all_tried_ = true;
};

/// Families of a whole study, as its layouts come in.
class FamilyFinder {
 public:
  /// `setup` must outlive it.
  explicit FamilyFinder(const Setup& setup) : setup_(setup) {}

  /// A unit's layouts and fruitless refinements. Units come in ascending order.
  void add(const store::UnitRow& unit);
  /// A layout that has to be looked at, however many there are, unless it is.
  void insist(const store::LayoutRow& row);
  /// Joins what was added since the last call. Throws Stopped.
  void join(const Effort& effort);
  /// Whether that brought a family without any layout of before.
  bool brought_a_family() const;
  /// Everything a report wants. Seeks further paths. Throws Stopped.
  Families sheet(const Effort& effort) const;

 private:
  FeasibleComponents& components_of(const store::LayoutRow& row);

  const Setup& setup_;
  using Key = std::tuple<std::int64_t, std::int64_t, std::vector<bool>>;  ///< linkage, choice, branches
  std::map<Key, std::unique_ptr<FeasibleComponents>> components_;
  std::int64_t refinements_ = 0, feasible_ = 0;
};

}  // namespace trammel::search
