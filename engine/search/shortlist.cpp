#include "search/shortlist.hpp"

#include <algorithm>
#include <map>

#include "search/basins.hpp"
#include "search/score.hpp"
#include "search/trade_off.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

/// Stations of a reported layout's curves.
constexpr int report_stations = 101;
/// Marks in the scatter and parallel-axes views.
constexpr std::size_t most_marks = 400;

std::vector<VariedValue> varied_values(const Design& design, const std::vector<double>& x) {
  std::vector<VariedValue> values;
  for (std::size_t i = 0; i < design.variables().size(); ++i) {
    const Variable& v = design.variables()[i];
    values.push_back({v.name, v.unit, v.lo, v.hi, v.at(x[i])});
  }
  return values;
}

StudySummary summary_of(const store::StudyFile& file, const std::vector<store::UnitRow>& units, double distinct) {
  StudySummary s;
  s.engine_version = file.head().engine_version;
  s.seed = file.head().seed;
  s.digest = file.digest();
  std::map<std::string, std::int64_t> failures;
  Basins basins(distinct);
  for (const store::UnitRow& unit : units) {
    ++s.units;
    s.screened += unit.screened;
    s.refined += unit.refined;
    s.kept += static_cast<std::int64_t>(unit.layouts.size());
    for (const store::LayoutRow& row : unit.layouts) s.feasible += row.musts_met == row.musts ? 1 : 0;
    for (const store::FailureRow& f : unit.failures) failures[f.cause] += f.count;
    add_unit(unit, basins);
  }
  s.kinds = basins.found();
  s.unseen = basins.unseen();
  for (const auto& [cause, n] : failures) s.failures.push_back({cause, n});
  std::stable_sort(s.failures.begin(), s.failures.end(),
                   [](const FailureCount& a, const FailureCount& b) { return a.count > b.count; });
  return s;
}

Mark mark_of(const Design& design, const store::LayoutRow& row) {
  Mark mark{layout_id(row), row.musts_met == row.musts, row.score, row.margin, row.achieved, {}, 0};
  for (std::size_t i = 0; i < row.design.size(); ++i) mark.varied.push_back(design.variables()[i].at(row.design[i]));
  return mark;
}

}  // namespace

std::string layout_id(const store::LayoutRow& row) {
  return std::to_string(row.unit) + "-" + std::to_string(row.place);
}

std::vector<store::LayoutRow> ranked(const std::vector<store::UnitRow>& units) {
  std::vector<store::LayoutRow> rows;
  for (const store::UnitRow& unit : units) rows.insert(rows.end(), unit.layouts.begin(), unit.layouts.end());
  std::sort(rows.begin(), rows.end(), ranks_before);
  return rows;
}

std::vector<store::LayoutRow> pick_distinct(const std::vector<store::LayoutRow>& ranked, int count, double distinct) {
  std::vector<store::LayoutRow> picked;
  for (const store::LayoutRow& row : ranked) {
    if (static_cast<int>(picked.size()) == count) break;
    const bool worse_kind =
        !picked.empty() && picked.front().musts_met == picked.front().musts && row.musts_met != row.musts;
    if (worse_kind) break;
    const bool apart = std::all_of(picked.begin(), picked.end(), [&](const store::LayoutRow& p) {
      return p.choice != row.choice || distance(p.design, row.design) >= distinct;
    });
    if (apart) picked.push_back(row);
  }
  return picked;
}

Sheet make_sheet(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                 const objectives::Packaging& packaging) {
  Sheet sheet;
  sheet.layout = layout;
  sheet.motion = bike::trace(layout, report_stations, true);
  sheet.assessment = assess_layout(layout, targets, packaging);
  sheet.topped_out = sheet.motion.poses.front();
  sheet.bottomed = sheet.motion.poses.back();
  sheet.at_sag = bike::pose_at_travel(layout, bike::sag_travel(layout));
  return sheet;
}

StudyReport make_report(const Setup& setup, const store::StudyFile& file, const std::string& study_name) {
  const std::vector<store::UnitRow> units = file.units();
  const std::vector<store::LayoutRow> rows = ranked(units);
  StudyReport report;
  report.brief = setup.brief;
  report.summary = summary_of(file, units, setup.brief.search.distinct);
  report.summary.study = study_name;
  for (std::size_t i = 0; i < std::min(rows.size(), most_marks); ++i)
    report.marks.push_back(mark_of(setup.design, rows[i]));
  report.trade_offs = find_trade_offs(setup, rows);
  for (TradeOffSheet& sheet : report.trade_offs)
    for (std::size_t i = 0; i < sheet.points.size(); ++i)
      sheet.points[i].layout.title = setup.brief.layout.title + ", trade-off point " + std::to_string(i + 1);
  const brief::SearchOptions& options = setup.brief.search;
  for (const store::LayoutRow& row : pick_distinct(rows, options.shortlist, options.distinct)) {
    Sheet sheet;
    try {
      sheet = make_sheet(setup.design.layout(row.design, static_cast<int>(row.choice)), setup.brief.targets,
                         setup.brief.packaging);
    } catch (const bike::MotionFailure& failure) {
      // A stop that only the detailed trace finds; the layout is counted among the failures, not shown.
      report.summary.failures.push_back({layout_id(row) + " " + failure.text, 1});
      continue;
    }
    sheet.rank = static_cast<int>(report.shortlist.size()) + 1;
    sheet.id = layout_id(row);
    sheet.layout.title = setup.brief.layout.title + ", layout " + sheet.id;
    sheet.varied = varied_values(setup.design, row.design);
    for (Mark& mark : report.marks)
      if (mark.id == sheet.id) mark.rank_in_shortlist = sheet.rank;
    report.shortlist.push_back(std::move(sheet));
  }
  return report;
}

}  // namespace trammel::search
