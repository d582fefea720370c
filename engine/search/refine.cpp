#include "search/refine.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

#include "search/grid.hpp"
#include "search/optimiser.hpp"
#include "search/reserve.hpp"
#include "search/stream.hpp"
#include "store/merit.hpp"

namespace trammel::search {
namespace {

using objectives::Emphasis;

/// A refinement first asks for a good margin everywhere; where the brief does not allow it, for the musts above all and
/// a little margin, and then for hardly any: a penalty leaves its minimum just outside a limit that binds, and the
/// margin makes up for that.
constexpr Emphasis first{20.0, 0.35};
constexpr Emphasis strict[] = {{2000.0, 0.02}, {200000.0, 0.001}};
/// Random streams of a start.
constexpr std::uint32_t stages = 8;
/// Rounds of refinement with a reserve for errors.
constexpr int reserve_rounds = 2;
/// The must margin counts in steps of this: less is no reason to prefer a layout, whatever it does with the wishes.
constexpr double room_step = 0.01;
/// How far a coordinate may go for margins alone, of the least distance of shortlisted layouts: two that are so far
/// apart stay half as far apart, whichever way they go; and of its range at least.
constexpr double neighbourhood = 0.25;
constexpr double least_neighbourhood = 0.05;

}  // namespace

Refiner::Refiner(const Setup& setup, std::int64_t unit, int choice, Scorer& scorer, const std::atomic<bool>* cancel)
    : setup_(setup),
      unit_(unit),
      choice_(choice),
      scorer_(scorer),
      cancel_(cancel),
      near_(std::max(least_neighbourhood, neighbourhood * setup.brief.search.distinct)) {}

std::vector<double> Refiner::refine(Scorer& scorer, const std::vector<double>& start, const Emphasis& emphasis,
                                    std::uint32_t stage) {
  Problem problem;
  problem.n = setup_.design.size();
  problem.evaluate = [&](std::span<const double> x, Evaluation& out) {
    out.value = scorer.figure(x, emphasis, out.gradient);
    return true;
  };
  Options options;
  options.algorithm = setup_.brief.search.algorithm;
  options.evaluations = setup_.brief.search.evaluations;
  options.seed = Stream(setup_.brief.search.seed, static_cast<std::uint64_t>(unit_), Purpose::optimiser).bits(stage);
  options.cancel = cancel_;
  options.start = start;
  const Optimum optimum = optimise(problem, options);
  evaluations_ += optimum.evaluations;
  return optimum.best ? optimum.best->x : start;
}

store::LayoutRow Refiner::row_of(const std::vector<double>& x) {
  return judged(scorer_, room(), x);
}

/// The layout at x as the scorer's demands see it.
store::LayoutRow Refiner::judged(Scorer& by, double room, const std::vector<double>& x) const {
  const objectives::Assessment a = by.assessment(x);
  store::LayoutRow row;
  row.unit = unit_;
  row.choice = choice_;
  row.design = x;
  for (const objectives::Verdict& v : a.targets) row.achieved.push_back(v.achieved);
  row.musts = a.musts;
  row.musts_met = a.musts_met;
  row.score = a.score;
  row.margin = a.margin;
  row.must_margin = a.must_margin;
  row.wish_margin = a.wish_margin;
  row.room = std::round(std::clamp(row.must_margin, 0.0, room) / room_step) * room_step;
  return row;
}

/// Goes on by constraints from a layout that has been judged by `by`, for room first; some variables may be held.
store::LayoutRow Refiner::finished(Scorer& by, const Reach& reach, store::LayoutRow row,
                                   const std::vector<bool>& held) {
  Finish finish(by, reach.room, reach.near, cancel_);
  std::vector<std::vector<double>> ends = finish.ends(row.design, held, reach.home.empty() ? row.design : reach.home);
  evaluations_ += finish.evaluations();
  // The last one, unless rounding or a closer look takes off it what the stage has gained.
  for (; !ends.empty(); ends.pop_back()) {
    store::LayoutRow end = judged(by, reach.room, ends.back());
    if (store::ranks_before(end, row)) return end;
  }
  return row;
}

/// Goes on from a finished layout with a reserve for errors in every must, the floor of room included. The reserve is
/// that at the layout from which a round starts, so there is more than one. What comes out counts when it keeps more of
/// it and no fewer musts.
store::LayoutRow Refiner::with_reserve(store::LayoutRow row, std::uint32_t stage) {
  for (int round = 0; round < reserve_rounds; ++round) {
    const std::unique_ptr<Reserve> reserve = reserve_at(setup_, choice_, row.design);
    Scorer by(setup_, choice_, reserve->demands);
    const store::LayoutRow before = judged(by, 0.0, row.design);
    const std::vector<double> x = refine(by, row.design, strict[0], stage++);
    const store::LayoutRow after = finished(by, {0.0, near_, {}}, judged(by, 0.0, x), none_held());
    const double missed = by.figure(after.design, strict[0], {}), missed_before = by.figure(row.design, strict[0], {});
    if (!(missed < missed_before || (missed == missed_before && store::ranks_before(after, before)))) return row;
    store::LayoutRow roomy = row_of(after.design);
    if (roomy.musts_met < row.musts_met) return row;
    row = std::move(roomy);
  }
  return row;
}

store::LayoutRow Refiner::refined(std::vector<double> x, std::uint32_t number) {
  std::uint32_t stage = number * stages;
  x = refine(scorer_, x, first, stage++);
  store::LayoutRow best = row_of(x);
  for (const Emphasis& emphasis : strict) {
    if (best.musts_met == best.musts && best.score == 0.0) break;
    x = refine(scorer_, x, emphasis, stage++);
    store::LayoutRow row = row_of(x);
    if (store::ranks_before(row, best)) best = std::move(row);
  }
  best = finished(scorer_, {room(), near_, {}}, std::move(best), none_held());
  return setup_.brief.search.yield ? with_reserve(std::move(best), stage) : best;
}

store::LayoutRow Refiner::far_finished(const store::LayoutRow& row) {
  return finished(scorer_, {room(), 1.0, {}}, row, none_held());
}

store::LayoutRow Refiner::gridded(const store::LayoutRow& row) {
  const Grid grid(setup_.design, setup_.brief.search.grid);
  const auto called_off = [&] { return cancel_ != nullptr && cancel_->load(std::memory_order_relaxed); };
  std::vector<double> x = row.design;
  std::unique_ptr<Reserve> reserve;
  std::optional<Scorer> with;
  if (setup_.brief.search.yield) {
    reserve = reserve_at(setup_, choice_, x);
    with.emplace(setup_, choice_, reserve->demands);
  }
  std::vector<bool> held = none_held();
  for (const GridPart& part : grid.parts()) {
    if (called_off()) break;
    grid.put(part, {0.0, 0.0}, choice_, x);
    for (const std::size_t i : part.variables) held[i] = true;
    Scorer& by = with ? *with : scorer_;
    const Reach reach{with ? 0.0 : room(), near_, row.design};
    x = finished(by, reach, judged(by, reach.room, x), held).design;
  }
  store::LayoutRow best = row_of(x);
  for (const GridPart& part : grid.parts())
    for (const bike::Point& off : part.neighbours) {
      if (called_off()) break;
      x = best.design;
      if (!grid.put(part, off, choice_, x)) continue;
      store::LayoutRow other = row_of(x);
      if (store::ranks_before(other, best)) best = std::move(other);
    }
  return best;
}

}  // namespace trammel::search
