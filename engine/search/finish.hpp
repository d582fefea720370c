// The last refinement of a layout, by constraints instead of penalties: first room in the musts, up to a floor, then
// the wishes, then all margins.
//
// A margin is made as great as it gets by
//
//     maximise t  so that  margin k ≥ t  for all k,  and what is settled already holds
//
// with exact slopes (the maximin of any textbook of optimisation). Such a refinement goes far: left to itself it takes
// hundreds of layouts to the same few. So where only margins are still to be gained, a layout keeps to its own
// neighbourhood.
#pragma once

#include <atomic>
#include <vector>

#include "search/margins.hpp"

namespace trammel::search {

/// Of layouts of one scorer; per-task workspace.
class Finish {
 public:
  /// `scorer` must outlive it. `room`: the floor of the must margin, ≥ 0; `near`: how far a coordinate may move, as a
  /// fraction of its range, once only margins are to be gained.
  Finish(Scorer& scorer, double room, double near, const std::atomic<bool>* cancel)
      : margins_(scorer), room_(room), near_(near), cancel_(cancel) {}

  /// The layouts that the stages end in, from x ∈ [0, 1]ⁿ: each better than the one before as far as refinement can
  /// tell. The coordinates that are `held` stay. `home`: whose neighbourhood a layout keeps to.
  std::vector<std::vector<double>> ends(std::vector<double> x, const std::vector<bool>& held,
                                        const std::vector<double>& home);

  /// The most points at which a call asks the model for slopes.
  static constexpr int most_evaluations = 800;
  /// Points at which it has been asked so far.
  int evaluations() const { return evaluations_; }

 private:
  struct Stage;

  bool make_room(const std::vector<bool>& held, std::vector<double>& x);
  Stage stage_from(const std::vector<double>& x, const std::vector<bool>& held, const std::vector<double>& home,
                   double reach);
  bool improve(Stage& stage, std::vector<double>& x);
  bool refine(const Stage& stage, std::vector<double>& x);
  double asked() const;
  double score_at(const std::vector<double>& x);

  Margins margins_;
  double room_, near_;
  const std::atomic<bool>* cancel_;
  int evaluations_ = 0;
};

}  // namespace trammel::search
