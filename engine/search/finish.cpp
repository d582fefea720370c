#include "search/finish.hpp"

#include <algorithm>
#include <limits>

#include "search/optimiser.hpp"

namespace trammel::search {
namespace {

constexpr const char* algorithm = "LD_SLSQP";
/// Most evaluations of one run of a stage, and most runs: after each, margins join that the run has made small.
constexpr int evaluations_per_run = 40;
constexpr int most_runs = 4;
/// Margins that are at first no more than this over what is asked of them are watched by a run.
constexpr double watched = 0.1;
/// Room is asked for beyond the floor by so much, in margin, that rounding to the reported grid and the closer look at
/// bodies along the stroke take nothing off the floor.
constexpr double to_spare = 0.01;
/// What has less gives way by so much to what comes later.
constexpr double to_give = 0.005;
/// Where the floor cannot be had, what holds the others back is left as it is and the others go on, so often.
constexpr int most_rounds = 3;
static_assert(Finish::most_evaluations == evaluations_per_run * most_runs * (most_rounds + 2));
/// A wish that is missed by no more is one on its limit, which margins can take inside: score.
constexpr double on_limit = 1e-2;
/// Of a range, and of margin: the least step, and how far a constraint may be missed.
constexpr double least_step = 1e-5, accuracy = 1e-7;
/// How far t may fall at first, in margin.
constexpr double below_start = 0.1;

constexpr double nothing = -std::numeric_limits<double>::infinity();

}  // namespace

/// One problem: t, or the score, over the variables that are free.
struct Finish::Stage {
  std::vector<std::size_t> free = {};
  std::vector<double> lo = {}, hi = {};  ///< limits of each
  std::vector<bool> moves = {};          ///< of each margin: it is to be t at least; all false: the score counts
  std::vector<double> kept = {};         ///< of each margin: it is to be so much at least; may be `nothing`
  double t_most = 1.0;
  std::vector<std::size_t> watched = {};  ///< margins that the problem knows of, ascending

  bool with_t() const { return std::find(moves.begin(), moves.end(), true) != moves.end(); }
  double reached(const std::vector<Margin>& margins) const {
    double t = t_most;
    for (std::size_t k = 0; k < margins.size(); ++k)
      if (moves[k]) t = std::min(t, margins[k].value);
    return t;
  }
  /// What of the unit box is x, and the other way.
  double inward(std::size_t i, const std::vector<double>& x) const {
    return std::clamp((x[free[i]] - lo[i]) / (hi[i] - lo[i]), 0.0, 1.0);
  }
  void outward(std::span<const double> u, std::vector<double>& x) const {
    for (std::size_t i = 0; i < free.size(); ++i) x[free[i]] = std::clamp(lo[i] + u[i] * (hi[i] - lo[i]), lo[i], hi[i]);
  }
};

Finish::Stage Finish::stage_from(const std::vector<double>& x, const std::vector<bool>& held,
                                 const std::vector<double>& home, double reach) {
  Stage stage;
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (held[i]) continue;
    stage.free.push_back(i);
    // What has left already stays where it is, at the border of the range that is allowed.
    stage.lo.push_back(std::max(0.0, std::min(x[i], home[i] - reach)));
    stage.hi.push_back(std::min(1.0, std::max(x[i], home[i] + reach)));
  }
  const std::vector<Margin>& now = margins_.at(x);
  stage.moves.assign(now.size(), false);
  stage.kept.assign(now.size(), nothing);
  // What has the room that is asked for keeps it; what has less keeps nearly all that it has.
  const double floor = asked();
  for (std::size_t k = 0; k < now.size(); ++k)
    if (now[k].must) stage.kept[k] = now[k].value < floor ? std::max(0.0, now[k].value - to_give) : floor;
  return stage;
}

/// What room is refined for.
double Finish::asked() const {
  return std::min(1.0, room_ + to_spare);
}

double Finish::score_at(const std::vector<double>& x) {
  double score = 0.0;
  margins_.evaluate(x, {{}, {}, {}, &score, {}});
  return score;
}

/// Sets the stage's problem before the optimiser. False when that has no answer.
bool Finish::refine(const Stage& stage, std::vector<double>& x) {
  struct Demand {
    std::size_t margin;  ///< its place among those watched
    bool moves;
  };
  const std::size_t n = x.size(), f = stage.free.size();
  std::vector<Demand> demands;
  for (std::size_t k = 0; k < stage.watched.size(); ++k) {
    if (stage.moves[stage.watched[k]]) demands.push_back({k, true});
    if (stage.kept[stage.watched[k]] > nothing) demands.push_back({k, false});
  }
  const bool with_t = stage.with_t();
  const double t_now = stage.reached(margins_.at(x)), t_least = t_now - below_start;
  const double t_range = stage.t_most - t_least;
  std::vector<double> values(stage.watched.size()), slopes(values.size() * n), score_slopes(with_t ? 0 : n), whole = x;
  Problem problem;
  problem.n = static_cast<int>(f) + (with_t ? 1 : 0);
  problem.constraints = static_cast<int>(demands.size());
  problem.evaluate = [&](std::span<const double> u, Evaluation& out) {
    stage.outward(u, whole);
    margins_.evaluate(whole, {stage.watched, values, slopes, with_t ? nullptr : &out.value, score_slopes});
    const double t = with_t ? t_least + u[f] * t_range : 0.0;
    for (std::size_t d = 0; d < demands.size(); ++d) {
      const auto [k, moves] = demands[d];
      const std::span<double> row = out.jacobian.subspan(d * u.size(), u.size());
      out.constraints[d] = (moves ? t : stage.kept[stage.watched[k]]) - values[k];
      for (std::size_t i = 0; i < f; ++i) row[i] = -slopes[k * n + stage.free[i]] * (stage.hi[i] - stage.lo[i]);
      if (moves) row[f] = t_range;
    }
    for (std::size_t i = 0; i < f && !with_t; ++i)
      out.gradient[i] = score_slopes[stage.free[i]] * (stage.hi[i] - stage.lo[i]);
    if (with_t) out.value = -t;
    if (with_t) out.gradient[f] = -t_range;
    return true;
  };
  Options options;
  options.algorithm = algorithm;
  options.evaluations = evaluations_per_run;
  options.cancel = cancel_;
  options.step_tolerance = least_step;
  options.violation_tolerance = accuracy;
  for (std::size_t i = 0; i < f; ++i) options.start.push_back(stage.inward(i, x));
  if (with_t) options.start.push_back(below_start / t_range);
  const Optimum optimum = optimise(problem, options);
  evaluations_ += optimum.evaluations;
  if (!optimum.best) return false;
  stage.outward(optimum.best->x, x);
  return true;
}

/// Solves the stage's problem for the margins that matter. True when x has moved.
bool Finish::improve(Stage& stage, std::vector<double>& x) {
  bool moved = false;
  for (int run = 0; run < most_runs; ++run) {
    const std::vector<Margin>& now = margins_.at(x);
    const double t = stage.reached(now);
    if (stage.with_t() && t > stage.t_most - accuracy) break;
    std::vector<std::size_t> wanted;
    for (std::size_t k = 0; k < now.size(); ++k) {
      const double asked = stage.moves[k] ? std::max(t, stage.kept[k]) : stage.kept[k];
      if (now[k].value < asked + watched || std::binary_search(stage.watched.begin(), stage.watched.end(), k))
        wanted.push_back(k);
    }
    if (run > 0 && wanted.size() == stage.watched.size()) break;
    stage.watched = std::move(wanted);
    if (!refine(stage, x)) break;
    moved = true;
  }
  return moved;
}

/// Takes the must margin up to the floor, or as far as it goes, and those of its musts that can have more up to the
/// floor.
bool Finish::make_room(const std::vector<bool>& held, std::vector<double>& x) {
  Stage stage = stage_from(x, held, x, 1.0);
  stage.t_most = asked();
  const std::vector<Margin> before = margins_.at(x);
  for (std::size_t k = 0; k < before.size(); ++k) {
    stage.moves[k] = before[k].must;
    stage.kept[k] = nothing;
  }
  bool moved = false;
  for (int round = 0; round < most_rounds && stage.with_t(); ++round) {
    if (!improve(stage, x)) break;
    moved = true;
    const std::vector<Margin>& now = margins_.at(x);
    const double t = stage.reached(now);
    if (t < 0.0 || t >= stage.t_most - accuracy) break;
    for (std::size_t k = 0; k < now.size(); ++k) {
      if (!stage.moves[k] || now[k].value > t + to_give) continue;
      stage.moves[k] = false;
      stage.kept[k] = std::max(0.0, now[k].value - to_give);
    }
  }
  return moved;
}

std::vector<std::vector<double>> Finish::ends(std::vector<double> x, const std::vector<bool>& held,
                                              const std::vector<double>& home) {
  std::vector<std::vector<double>> ends;
  if (std::find(held.begin(), held.end(), false) == held.end()) return ends;
  const auto must_margin = [&] {
    double least = 1.0;
    for (const Margin& m : margins_.at(x))
      if (m.must) least = std::min(least, m.value);
    return least;
  };
  if (must_margin() < asked() && make_room(held, x)) ends.push_back(x);
  if (must_margin() < 0.0) return ends;
  if (score_at(x) > 0.0) {
    Stage wishes = stage_from(x, held, x, 1.0);
    if (improve(wishes, x)) ends.push_back(x);
  }
  if (score_at(x) > on_limit) return ends;
  Stage all = stage_from(x, held, home, near_);
  const std::vector<Margin>& now = margins_.at(x);
  for (std::size_t k = 0; k < now.size(); ++k) all.moves[k] = now[k].target;
  if (improve(all, x)) ends.push_back(x);
  return ends;
}

}  // namespace trammel::search
