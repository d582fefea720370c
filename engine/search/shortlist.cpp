#include "search/shortlist.hpp"

#include <algorithm>
#include <functional>

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
/// Layouts that a closer look at a conflict starts from.
constexpr std::size_t most_near = 64;

std::vector<VariedValue> varied_values(const Design& design, const std::vector<double>& x) {
  std::vector<VariedValue> values;
  for (std::size_t i = 0; i < design.variables().size(); ++i) {
    const Variable& v = design.variables()[i];
    values.push_back({v.name, v.unit, v.lo, v.hi, v.at(x[i])});
  }
  return values;
}

StudySummary summary_of(const store::StudyFile& file, double distinct, const std::function<void()>& between) {
  StudySummary s;
  s.engine_version = file.head().engine_version;
  s.seed = file.head().seed;
  s.digest = file.digest(between);
  const store::Totals totals = file.totals();
  s.units = totals.units;
  s.screened = totals.screened;
  s.refined = totals.refined;
  s.kept = totals.layouts;
  s.feasible = totals.feasible;
  for (const auto& [cause, n] : totals.failures) s.failures.push_back({cause, n});
  Basins basins(distinct);
  file.each_unit([&](store::UnitRow&& unit) {
    between();
    add_unit(unit, basins);
  });
  s.kinds = basins.found();
  s.unseen = basins.unseen();
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

bool Picker::offer(const store::LayoutRow& row) {
  if (static_cast<int>(picked_.size()) == count_) return false;
  const bool worse_kind =
      !picked_.empty() && picked_.front().musts_met == picked_.front().musts && row.musts_met != row.musts;
  if (worse_kind) return false;
  const bool apart = std::all_of(picked_.begin(), picked_.end(), [&](const store::LayoutRow& p) {
    return p.choice != row.choice || distance(p.design, row.design) >= distinct_;
  });
  if (apart) picked_.push_back(row);
  return static_cast<int>(picked_.size()) < count_;
}

std::vector<store::LayoutRow> pick_distinct(const std::vector<store::LayoutRow>& ranked, int count, double distinct) {
  Picker picker(count, distinct);
  for (const store::LayoutRow& row : ranked)
    if (!picker.offer(row)) break;
  return picker.picked();
}

std::vector<std::string> shortlist_ids(const Setup& setup, const store::StudyFile& file, std::int64_t past) {
  Picker picker(setup.brief.search.shortlist, setup.brief.search.distinct);
  file.each_ranked([&](const store::LayoutRow& row) { return row.unit >= past || picker.offer(row); });
  std::vector<std::string> ids;
  for (const store::LayoutRow& row : picker.picked()) ids.push_back(layout_id(row));
  return ids;
}

namespace {

/// A layout that is only one.
Sheet sheet_of(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
               const objectives::Packaging& packaging) {
  Sheet sheet;
  sheet.layout = layout;
  sheet.motion = bike::trace(layout, report_stations, true);
  sheet.assessment = assess_layout(layout, targets, packaging);
  sheet.topped_out = sheet.motion.poses.front();
  sheet.bottomed = sheet.motion.poses.back();
  sheet.at_sag = bike::pose_at_travel(layout, bike::sag_travel(layout));
  const auto bodies = [&](const bike::Pose& pose) {
    return bike::body_outlines(layout, packaging.bodies, pose.points);
  };
  sheet.bodies_topped_out = bodies(sheet.topped_out);
  sheet.bodies_at_sag = bodies(sheet.at_sag);
  sheet.bodies_bottomed = bodies(sheet.bottomed);
  sheet.geometry = bike::geometry_chart(layout);
  sheet.set_up = bike::set_up(layout);
  sheet.loads = bike::pivot_loads(layout, report_stations);
  return sheet;
}

}  // namespace

Sheet make_sheet(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                 const objectives::Packaging& packaging) {
  if (layout.settings.empty() && layout.sizes.empty()) return sheet_of(layout, targets, packaging);
  Sheet out;
  std::vector<objectives::CaseAssessment> judged;
  std::vector<CaseSheet> cases;
  for (const CaseSetup& one : cases_of(layout, targets)) {
    Sheet sheet = sheet_of(bike::layout_of(layout, one.which), one.targets, packaging);
    judged.push_back({one.name, one.numbers, sheet.assessment});
    cases.push_back({one.name, sheet.layout, judged.back(), sheet.motion.table, sheet.bottomed.travel, sheet.geometry,
                     sheet.set_up});
    if (cases.size() == 1) out = std::move(sheet);
  }
  out.assessment = objectives::merged(judged, targets);
  out.drawn = layout;
  out.cases = std::move(cases);
  return out;
}

StudyReport make_report(const Setup& setup, const store::StudyFile& file, const std::string& study_name,
                        const std::atomic<bool>* stop) {
  const auto heed = [&] {
    if (stop != nullptr && stop->load(std::memory_order_relaxed)) throw Stopped();
  };
  StudyReport report;
  report.brief = setup.brief;
  report.summary = summary_of(file, setup.brief.search.distinct, heed);
  report.summary.study = study_name;
  const brief::SearchOptions& options = setup.brief.search;
  Picker picker(options.shortlist, options.distinct);
  TradeOffStarts starts(setup);
  bool picking = true, starting = !options.trade_offs.empty();
  std::vector<store::LayoutRow> near;
  file.each_ranked([&](const store::LayoutRow& row) {
    heed();
    if (report.marks.size() < most_marks) report.marks.push_back(mark_of(setup.design, row));
    if (near.size() < most_near) near.push_back(row);
    picking = picking && picker.offer(row);
    starting = starting && starts.offer(row);
    return picking || starting || report.marks.size() < most_marks;
  });
  report.trade_offs = find_trade_offs(setup, starts.found(), stop);
  for (TradeOffSheet& sheet : report.trade_offs)
    for (std::size_t i = 0; i < sheet.points.size(); ++i)
      sheet.points[i].layout.title = setup.brief.layout.title + ", trade-off point " + std::to_string(i + 1);
  // A slice is not the study, and does not ask why.
  if (report.summary.feasible == 0 && file.head().slices == 1) report.conflict = find_conflict(setup, near, stop);
  for (const store::LayoutRow& row : picker.picked()) {
    heed();
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
    if (sheet.drawn) sheet.drawn->title = sheet.layout.title;
    sheet.varied = varied_values(setup.design, row.design);
    for (Mark& mark : report.marks)
      if (mark.id == sheet.id) mark.rank_in_shortlist = sheet.rank;
    report.shortlist.push_back(std::move(sheet));
  }
  return report;
}

}  // namespace trammel::search
