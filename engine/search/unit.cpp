#include "search/unit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

#include "search/grid.hpp"
#include "search/optimiser.hpp"
#include "search/reserve.hpp"
#include "search/score.hpp"
#include "search/stream.hpp"

namespace trammel::search {
namespace {

using objectives::Emphasis;

/// Samples are screened as a wish, not yet as a demand, so that a near miss of a must is not lost.
constexpr Emphasis screening{4.0, 0.0};
/// A refinement asks for more and more margin everywhere, as long as the brief allows it; where it does not allow even
/// the first, for the musts above all and a little margin, and then for hardly any: a penalty leaves its minimum just
/// outside a limit that binds, and the margin makes up for that.
constexpr double insets[] = {0.35, 0.5, 0.65, 0.8};
constexpr double must_weight = 20.0;
constexpr Emphasis strict[] = {{2000.0, 0.02}, {200000.0, 0.001}};
/// Rounds of refinement with a reserve for errors.
constexpr int reserve_rounds = 2;
/// Starts, and finished layouts of a unit, are at least so far apart (RMS over the ranges).
constexpr double start_distance = 0.15;
constexpr double same_layout = 0.02;

struct Sample {
  double figure = 0.0;
  std::vector<double> x;
};

struct Unit {
  const Setup& setup;
  std::int64_t number;
  const std::atomic<bool>* cancel;
  int choice;
  Scorer scorer;
  store::UnitRow row{};

  bool cancelled() const { return cancel != nullptr && cancel->load(std::memory_order_relaxed); }
};

/// How a layout that the unit's best samples outdo is counted.
std::string outscored(objectives::Stage stage) {
  switch (stage) {
    case objectives::Stage::packaging:
      return "outdone: packaging as drawn";
    case objectives::Stage::end_of_stroke:
      return "outdone: ends of the stroke";
    case objectives::Stage::stroke:
      return "outdone: rules along the stroke";
    case objectives::Stage::room:
      return "outdone: room between bodies";
    default:
      return "outdone: curves";
  }
}

/// Samples screened at once. The limit is tightened only between them, so that what is counted does not depend on the
/// processor.
constexpr int block = 256;

/// Screens the unit's samples; keeps the best in order, more than will be refined.
std::vector<Sample> screen(Unit& u) {
  const int samples = u.setup.brief.search.samples;
  const auto choices = static_cast<std::uint64_t>(u.setup.design.choices());
  const std::uint64_t first = static_cast<std::uint64_t>(u.number) / choices * static_cast<std::uint64_t>(samples);
  const std::size_t keep = static_cast<std::size_t>(u.setup.brief.search.refine) * 16;
  std::map<std::string, std::int64_t> failures;
  std::vector<std::pair<double, std::uint64_t>> kept;  // figure and sample
  for (int done = 0; done < samples && !u.cancelled(); done += block) {
    const double limit = kept.size() == keep ? kept.front().first : std::numeric_limits<double>::infinity();
    const std::uint64_t from = first + static_cast<std::uint64_t>(done);
    std::uint64_t sample = from;
    for (const objectives::Screened& screened :
         u.scorer.screen(from, static_cast<std::size_t>(std::min(block, samples - done)), screening, limit)) {
      const std::pair candidate(screened.figure, sample++);
      if (!screened.assembles)
        ++failures[u.scorer.failure(screened)];
      else if (screened.stage != objectives::Stage::through)
        ++failures[outscored(screened.stage)];
      if (kept.size() == keep) {
        if (!(candidate < kept.front())) continue;
        std::pop_heap(kept.begin(), kept.end());
        kept.pop_back();
      }
      kept.push_back(candidate);
      std::push_heap(kept.begin(), kept.end());
    }
  }
  std::sort_heap(kept.begin(), kept.end());
  u.row.screened = samples;
  for (const auto& [cause, count] : failures) u.row.failures.push_back({u.number, cause, count});
  std::vector<Sample> best;
  for (const auto& [figure, sample] : kept) {
    best.push_back({figure, std::vector<double>(static_cast<std::size_t>(u.setup.design.size()))});
    u.setup.sobol.point(sample, best.back().x);
  }
  return best;
}

/// The best samples that lie apart from one another.
std::vector<Sample> diverse(const std::vector<Sample>& sorted, int wanted) {
  std::vector<Sample> chosen;
  for (const Sample& s : sorted) {
    if (static_cast<int>(chosen.size()) == wanted) break;
    const bool apart = std::all_of(chosen.begin(), chosen.end(),
                                   [&](const Sample& c) { return distance(c.x, s.x) >= start_distance; });
    if (apart) chosen.push_back(s);
  }
  return chosen;
}

std::vector<double> refine(Unit& u, Scorer& scorer, const std::vector<double>& start, const Emphasis& emphasis,
                           std::uint32_t stage) {
  Problem problem;
  problem.n = u.setup.design.size();
  problem.evaluate = [&](std::span<const double> x, Evaluation& out) {
    out.value = scorer.figure(x, emphasis, out.gradient);
    return true;
  };
  Options options;
  options.algorithm = u.setup.brief.search.algorithm;
  options.evaluations = u.setup.brief.search.evaluations;
  options.seed =
      Stream(u.setup.brief.search.seed, static_cast<std::uint64_t>(u.number), Purpose::optimiser).bits(stage);
  options.cancel = u.cancel;
  options.start = start;
  const Optimum optimum = optimise(problem, options);
  u.row.evaluations += optimum.evaluations;
  return optimum.best ? optimum.best->x : start;
}

store::LayoutRow layout_row(Unit& u, const std::vector<double>& x) {
  const objectives::Assessment a = u.scorer.assessment(x);
  store::LayoutRow row;
  row.unit = u.number;
  row.choice = u.choice;
  row.design = x;
  for (const objectives::Verdict& v : a.targets) row.achieved.push_back(v.achieved);
  row.musts = a.musts;
  row.musts_met = a.musts_met;
  row.score = a.score;
  row.margin = a.margin;
  return row;
}

/// Goes on from a finished layout with a reserve for errors in every must. The reserve is that at the layout from which
/// a round starts, so there is more than one. What comes out counts when it keeps more of it and no fewer musts.
store::LayoutRow with_reserve(Unit& u, store::LayoutRow row, std::uint32_t stage) {
  for (int round = 0; round < reserve_rounds; ++round) {
    const std::unique_ptr<Reserve> reserve = reserve_at(u.setup, u.choice, row.design);
    Scorer scorer(u.setup, u.choice, reserve->demands);
    const std::vector<double> x = refine(u, scorer, row.design, strict[0], stage++);
    if (!(scorer.figure(x, strict[0], {}) < scorer.figure(row.design, strict[0], {}))) return row;
    store::LayoutRow roomy = layout_row(u, x);
    if (roomy.musts_met < row.musts_met) return row;
    row = std::move(roomy);
  }
  return row;
}

store::LayoutRow refined(Unit& u, const Sample& start, std::uint32_t number) {
  std::uint32_t stage = number * 8;
  std::vector<double> x = start.x;
  std::optional<store::LayoutRow> best;
  for (double inset : insets) {
    x = refine(u, u.scorer, x, {must_weight, inset}, stage++);
    store::LayoutRow row = layout_row(u, x);
    const bool more = row.musts_met == row.musts && row.score == 0.0 && row.margin >= inset;
    if (!best || ranks_before(row, *best)) best = std::move(row);
    if (!more) break;
  }
  for (const Emphasis& emphasis : strict) {
    if (best->musts_met == best->musts && best->score == 0.0) break;
    x = refine(u, u.scorer, x, emphasis, stage++);
    store::LayoutRow row = layout_row(u, x);
    if (ranks_before(row, *best)) best = std::move(row);
  }
  if (u.setup.brief.search.yield) return with_reserve(u, std::move(*best), stage);
  return *best;
}

/// Evaluations of a refinement after one more coordinate is held on the grid.
constexpr int grid_evaluations = 60;
/// Where the numbers of their random streams start.
constexpr std::uint32_t grid_stage = 1U << 20;

/// Refines the variables that are not held.
void refine_free(Unit& u, std::vector<double>& x, const std::vector<bool>& held, std::uint32_t stage) {
  std::vector<std::size_t> free;
  for (std::size_t i = 0; i < x.size(); ++i)
    if (!held[i]) free.push_back(i);
  if (free.empty()) return;
  std::vector<double> whole = x, slopes(x.size());
  Problem problem;
  problem.n = static_cast<int>(free.size());
  problem.evaluate = [&](std::span<const double> part, Evaluation& out) {
    for (std::size_t i = 0; i < free.size(); ++i) whole[free[i]] = part[i];
    const bool wanted = !out.gradient.empty();
    out.value = u.scorer.figure(whole, strict[0], wanted ? std::span<double>(slopes) : std::span<double>());
    for (std::size_t i = 0; wanted && i < free.size(); ++i) out.gradient[i] = slopes[free[i]];
    return true;
  };
  Options options;
  options.algorithm = u.setup.brief.search.algorithm;
  options.evaluations = std::min(u.setup.brief.search.evaluations, grid_evaluations);
  options.seed =
      Stream(u.setup.brief.search.seed, static_cast<std::uint64_t>(u.number), Purpose::optimiser).bits(stage);
  options.cancel = u.cancel;
  for (const std::size_t i : free) options.start.push_back(std::clamp(x[i], 0.0, 1.0));
  const Optimum optimum = optimise(problem, options);
  u.row.evaluations += optimum.evaluations;
  if (!optimum.best) return;
  for (std::size_t i = 0; i < free.size(); ++i) x[free[i]] = optimum.best->x[i];
}

/// The layout on the brief's grid: one part after the other goes to its nearest step and the rest is refined again; at
/// the end each one tries its neighbours. A part whose ranges hold no step stays where it is.
store::LayoutRow gridded(Unit& u, const store::LayoutRow& row, std::uint32_t number) {
  const Grid grid(u.setup.design, u.setup.brief.search.grid);
  std::vector<double> x = row.design;
  std::vector<bool> held(x.size(), false);
  std::uint32_t stage = grid_stage + number * 128;
  for (const GridPart& part : grid.parts()) {
    if (u.cancelled()) break;
    grid.put(part, {0.0, 0.0}, u.choice, x);
    for (const std::size_t i : part.variables) held[i] = true;
    refine_free(u, x, held, stage++);
  }
  store::LayoutRow best = layout_row(u, x);
  for (const GridPart& part : grid.parts())
    for (const bike::Point& off : part.neighbours) {
      if (u.cancelled()) break;
      x = best.design;
      if (!grid.put(part, off, u.choice, x)) continue;
      store::LayoutRow other = layout_row(u, x);
      if (ranks_before(other, best)) best = std::move(other);
    }
  return best;
}

/// Unit number `unit` of a single linkage.
std::optional<store::UnitRow> run_own(const Setup& setup, std::int64_t unit, const std::atomic<bool>* cancel) {
  const int choice = static_cast<int>(unit % setup.design.choices());
  Unit u{setup, unit, cancel, choice, Scorer(setup, choice)};
  u.row.unit = unit;
  const std::vector<Sample> starts = diverse(screen(u), setup.brief.search.refine);
  std::vector<store::LayoutRow> rows;
  for (std::size_t i = 0; i < starts.size() && !u.cancelled(); ++i)
    rows.push_back(refined(u, starts[i], static_cast<std::uint32_t>(i)));
  if (setup.brief.search.grid > 0.0)
    for (std::size_t i = 0; i < rows.size() && !u.cancelled(); ++i)
      rows[i] = gridded(u, rows[i], static_cast<std::uint32_t>(i));
  if (u.cancelled()) return std::nullopt;
  u.row.refined = static_cast<std::int64_t>(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) rows[i].place = static_cast<std::int64_t>(i);
  std::sort(rows.begin(), rows.end(), ranks_before);
  for (const store::LayoutRow& row : rows) {
    const bool fresh = std::all_of(u.row.layouts.begin(), u.row.layouts.end(), [&](const store::LayoutRow& kept) {
      return distance(kept.design, row.design) >= same_layout;
    });
    if (fresh) u.row.layouts.push_back(row);
  }
  for (std::size_t i = 0; i < u.row.layouts.size(); ++i) u.row.layouts[i].place = static_cast<std::int64_t>(i);
  return u.row;
}

}  // namespace

bool ranks_before(const store::LayoutRow& a, const store::LayoutRow& b) {
  const std::int64_t missed_a = a.musts - a.musts_met, missed_b = b.musts - b.musts_met;
  return std::tuple(missed_a, a.score, -a.margin, a.unit, a.place) <
         std::tuple(missed_b, b.score, -b.margin, b.unit, b.place);
}

std::optional<store::UnitRow> run_unit(const Setup& setup, std::int64_t unit, const std::atomic<bool>* cancel) {
  const std::int64_t linkage = unit % setup.linkage_count();
  std::optional<store::UnitRow> row = run_own(setup.of(linkage), unit / setup.linkage_count(), cancel);
  if (!row) return row;
  row->unit = unit;
  row->linkage = linkage;
  for (store::FailureRow& failure : row->failures) failure.unit = unit;
  for (store::LayoutRow& layout : row->layouts) {
    layout.unit = unit;
    layout.linkage = linkage;
  }
  return row;
}

}  // namespace trammel::search
