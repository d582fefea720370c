#include "search/unit.hpp"

#include <algorithm>
#include <limits>
#include <map>

#include "search/refine.hpp"

namespace trammel::search {
namespace {

using objectives::Emphasis;

/// Samples are screened as a wish, not yet as a demand, so that a near miss of a must is not lost.
constexpr Emphasis screening{4.0, 0.0};
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
      return "ruled out: packaging as drawn";
    case objectives::Stage::end_of_stroke:
      return "ruled out: ends of the stroke";
    case objectives::Stage::stroke:
      return "ruled out: rules along the stroke";
    case objectives::Stage::room:
      return "ruled out: room between bodies";
    default:
      return "ruled out: curves";
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

/// Unit number `unit` of a single linkage.
std::optional<store::UnitRow> run_own(const Setup& setup, std::int64_t unit, const std::atomic<bool>* cancel) {
  const int choice = static_cast<int>(unit % setup.design.choices());
  Unit u{setup, unit, cancel, choice, Scorer(setup, choice)};
  u.row.unit = unit;
  const std::vector<Sample> starts = diverse(screen(u), setup.brief.search.refine);
  std::vector<store::LayoutRow> rows;
  Refiner refiner(setup, unit, choice, u.scorer, cancel);
  for (std::size_t i = 0; i < starts.size() && !u.cancelled(); ++i)
    rows.push_back(refiner.refined(starts[i].x, static_cast<std::uint32_t>(i)));
  const auto leader = std::min_element(rows.begin(), rows.end(), ranks_before);
  if (leader != rows.end() && leader->musts_met == leader->musts && !u.cancelled())
    rows.push_back(refiner.far_finished(*leader));
  if (setup.brief.search.grid > 0.0)
    for (std::size_t i = 0; i < rows.size() && !u.cancelled(); ++i) rows[i] = refiner.gridded(rows[i]);
  if (u.cancelled()) return std::nullopt;
  u.row.evaluations = refiner.evaluations();
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
