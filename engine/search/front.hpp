// The front between two or three figures that pull against each other: points of which none can be bettered in one
// figure without giving way in another.
//
// Every point is the end of a refinement of its own. In the box that the front spans, its ideal corner at 0 and its
// worst one at 1, a ray leaves the ideal corner with direction w; the point is where it meets what can be had:
//
//     minimise t  so that  figure k ≤ ideal k + t·w k·range k  for all k,  and the constraints hold
//
// (Pascoletti & Serafini, "Scalarizing vector optimization problems", J. Optim. Theory Appl. 42 (1984) 499–524, from
// memory; with the ideal corner as the origin it is Tchebycheff's weighting, so that hollow fronts are reached too.)
// A figure may be the greatest of several parts; each part is then a constraint, and nothing has a kink.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "search/front_set.hpp"
#include "search/optimiser.hpp"

namespace trammel::search {

/// What a model writes at a point: sized by the caller, zeros before. Slopes are row-major, n a row, and empty when
/// they are not wanted.
struct FrontEvaluation {
  std::span<double> parts;
  std::span<double> part_slopes;
  std::span<double> constraints;  ///< met when ≤ 0
  std::span<double> jacobian;
};

/// Figures to be made small over [0, 1]ⁿ.
struct FrontProblem {
  int n = 0;
  std::vector<int> figure_of;  ///< one a part: the figure that it belongs to; figures are 0 … K − 1, K = 2 or 3
  int constraints = 0;
  std::function<bool(std::span<const double> x, FrontEvaluation& out)> evaluate;  ///< as of `Problem`

  int figures() const;
};

struct FrontOptions {
  std::string algorithm = "LD_SLSQP";      ///< of every start; NLopt's own name, one that takes constraints
  std::string second = "AUGLAG";           ///< goes on from the best end, slower and surer; empty for none
  int evaluations = 200;                   ///< most of one refinement
  double resolution = 0.1;                 ///< of the box that the front spans, see `find_front`; 0 < resolution ≤ 1
  int scattered = 4;                       ///< starts anywhere in the box, beside those near by, for every point
  std::uint64_t seed = 0;                  ///< of these starts
  std::vector<std::vector<double>> start;  ///< known good points, for the ends of the front
  const std::atomic<bool>* cancel = nullptr;
};

/// The front of a problem. With two figures the widest gap is halved until neighbours are no farther apart than the
/// resolution, or until rays an eighth of it apart end on both sides of a gap: nothing lies in between. With three,
/// rays go through a triangular lattice with steps of the resolution (Das & Dennis, "Normal-boundary intersection",
/// SIAM J. Optim. 8 (1998) 631–657, from memory). Without any feasible point the front is empty. Equal arguments give
/// equal bytes.
Front find_front(const FrontProblem& problem, const FrontOptions& options);

}  // namespace trammel::search
