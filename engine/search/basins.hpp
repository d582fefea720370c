// Where refinements end, sorted into basins, and how much is still to be found.
//
// The share of further refinements that would end in a basin not yet seen is estimated by the share of those so far
// that ended in one seen only once: Good, "The population frequencies of species and the estimation of population
// parameters", Biometrika 40 (1953) 237–264 (from memory; the rule is Turing's). It says nothing about basins that this
// way of searching cannot reach.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "store/study_file.hpp"

namespace trammel::search {

class Basins {
 public:
  /// Ends nearer than `radius` (RMS over the variables) to a basin's founder, with the same discrete choice, are in it.
  explicit Basins(double radius) : radius_(radius) {}

  /// A refinement that ended at x ∈ [0, 1]ⁿ: in the first basin whose founder is near enough, or as the founder of a
  /// new one. Returns the basin's number. What is a basin depends on the order of the ends, so they come in a fixed
  /// one.
  std::size_t add(std::int64_t choice, std::span<const double> x);
  /// Refinements that ended in nothing worth counting.
  void add_fruitless(std::int64_t count) { refinements_ += count; }

  std::int64_t refinements() const { return refinements_; }
  std::int64_t found() const { return static_cast<std::int64_t>(founders_.size()); }
  /// Basins in which exactly one refinement ended.
  std::int64_t once() const { return once_; }
  /// Estimated share of further refinements that would end in a basin not yet seen, 0 … 1; 1 before the first.
  double unseen() const;
  /// Whether to stop: `unseen`, with one more basin seen once than there are, is at most `settled_share`; before the
  /// first basin is found, a tenth of it.
  bool settled() const;

  /// At most so many further refinements may bring anything new when a search is said to be settled.
  static constexpr double settled_share = 0.02;

 private:
  struct Founder {
    std::int64_t choice = 0;
    std::vector<double> x;
    std::int64_t ends = 0;
  };
  double radius_;
  std::vector<Founder> founders_;
  std::int64_t refinements_ = 0, once_ = 0;
};

/// Kinds of layout in units, added in ascending order: the basins of refinements that ended in a layout that meets
/// every must; all others are fruitless. A unit keeps of several ends at one place only one, so the estimate errs on
/// the side of more to be found.
void add_unit(const store::UnitRow& unit, Basins& basins);

}  // namespace trammel::search
