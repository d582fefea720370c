// Branch and prune: which part of the ranges of a brief holds no layout that meets every must, proven.
//
// The ranges are one box at first. Of each box the rows are computed (prove_box.hpp); where a must is broken
// everywhere, or the rows exclude each other (prove_rows.hpp), the box is dropped. Else what of it the rows leave is
// split in two and both halves wait their turn, the largest first. Branch and prune of constraints by intervals, with
// relaxations that are linear programs: Hansen & Walster, Global Optimization Using Interval Analysis (2004); Araya,
// Trombettoni & Neveu, A contractor based on convex interval Taylor, CPAIOR 2012; Ninin, Messine & Hansen, A reliable
// affine relaxation method for global optimization, 4OR 13 (2015) 247–277; all from memory.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>

#include "search/prove_box.hpp"

namespace trammel::search {

struct ProofOptions {
  std::int64_t boxes = 100000;  ///< most that are judged, in each linkage and choice
  int threads = 1;
};

/// How much of the volume was dropped for a must.
struct MustShare {
  Must must;
  double share = 0.0;
};

/// What has been found of one linkage with one discrete choice.
struct ProofPart {
  std::int64_t linkage = 0;
  int choice = 0;
  bool judged = false;  ///< false where it cannot be: all of it is left
  std::int64_t boxes = 0;
  double left = 1.0;  ///< share of the volume of the ranges that is not proven empty
  std::vector<VariableBox> boxes_left;
  VariableBox hull;              ///< of what is left; as many as there are variables, unless nothing is
  std::vector<MustShare> musts;  ///< those that dropped most first
  bool empty() const { return judged && boxes_left.empty(); }
};

/// A function of brief and number of boxes: the same for any number of threads. `stop`, asked now and then, may end a
/// part early, which then depends on when it did; it is told which share of all the work that part should have ended
/// by.
std::vector<ProofPart> prove(const Setup& setup, const ProofOptions& options, const std::function<bool(double)>& stop);

/// One of the ranges in which a variable's values are left, in its unit.
math::Interval in_unit(const Variable& variable, const math::Interval& part);

}  // namespace trammel::search
