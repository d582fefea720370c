#include "search/shortlist.hpp"

#include <algorithm>
#include <functional>

#include "brief/title.hpp"
#include "objectives/rules/table.hpp"
#include "search/families.hpp"
#include "search/make_sheet.hpp"
#include "search/preflight.hpp"
#include "search/score.hpp"
#include "search/tolerance.hpp"
#include "search/trade_off.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

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

/// Most frequent first.
void sort_counts(std::vector<FailureCount>& counts) {
  std::stable_sort(counts.begin(), counts.end(),
                   [](const FailureCount& a, const FailureCount& b) { return a.count > b.count; });
}

/// What a unit of a linkage adds to its account.
void add_unit(const store::UnitRow& unit, LinkageSheet& sheet) {
  ++sheet.units;
  sheet.screened += unit.screened;
  sheet.refined += unit.refined;
  sheet.kept += static_cast<std::int64_t>(unit.layouts.size());
  for (const store::LayoutRow& row : unit.layouts) sheet.feasible += row.musts_met == row.musts ? 1 : 0;
  for (const store::FailureRow& failure : unit.failures) {
    const auto same = [&](const FailureCount& known) { return known.cause == failure.cause; };
    auto known = std::find_if(sheet.failures.begin(), sheet.failures.end(), same);
    if (known == sheet.failures.end()) known = sheet.failures.insert(known, {failure.cause, 0});
    known->count += failure.count;
  }
}

/// `linkages` has one entry a linkage of the brief, or none, and is filled but for layouts.
StudySummary summary_of(const store::StudyFile& file, FamilyFinder& families, std::vector<LinkageSheet>& linkages,
                        const std::function<void()>& between) {
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
  file.each_unit([&](store::UnitRow&& unit) {
    between();
    families.add(unit);
    if (!linkages.empty()) add_unit(unit, linkages[static_cast<std::size_t>(unit.linkage)]);
  });
  sort_counts(s.failures);
  for (LinkageSheet& sheet : linkages) sort_counts(sheet.failures);
  return s;
}

Mark mark_of(const Setup& setup, const store::LayoutRow& row) {
  Mark mark{layout_id(row), row.musts_met == row.musts, row.score, row.margin, row.achieved, {}, 0, {}, {}};
  const Setup& own = setup.of(row.linkage);
  mark.linkage = own.brief.linkage_title;
  for (std::size_t i = 0; i < row.design.size(); ++i)
    mark.varied.push_back(own.design.variables()[i].at(row.design[i]));
  mark.points = own.design.layout(row.design, static_cast<int>(row.choice)).mechanism.points;
  return mark;
}

/// A stored layout as a whole sheet but for its rank. Throws bike::MotionFailure.
Sheet sheet_of_row(const Setup& setup, const store::LayoutRow& row) {
  const Setup& own = setup.of(row.linkage);
  Sheet sheet =
      make_sheet(own.design.layout(row.design, static_cast<int>(row.choice)), own.brief.targets, own.brief.packaging);
  // What takes slopes is judged by the search's own demands, which have tapes.
  const objectives::Assessment judged = Scorer(own, static_cast<int>(row.choice)).assessment(row.design);
  for (const objectives::RuleVerdict& rule : judged.rules)
    if (rule.rule == objectives::rule_number<objectives::rules::Sensitivity>) objectives::add(rule, sheet.assessment);
  sheet.id = layout_id(row);
  sheet.linkage = own.brief.linkage_title;
  // Of several linkages the name tells more than the bike's, and both together are too long for a title.
  sheet.layout.title =
      brief::made_title(sheet.linkage.empty() ? own.brief.layout.title : sheet.linkage, "layout " + sheet.id);
  if (sheet.drawn) sheet.drawn->title = sheet.layout.title;
  sheet.varied = varied_values(own.design, row.design);
  return sheet;
}

/// Names a layout that no unit of the study found.
void mark_as_closer(const store::LayoutRow& row, Sheet& sheet) {
  const std::string id = layout_id(row);
  sheet.closer_look = true;
  sheet.id = "closer-" + std::to_string(row.place);
  for (std::string* title : {&sheet.layout.title, sheet.drawn ? &sheet.drawn->title : nullptr})
    if (title != nullptr && title->ends_with(id)) title->replace(title->size() - id.size(), id.size(), sheet.id);
}

/// What a point of a front, numbered from 0, is called.
void name_point(const std::string& title, std::size_t i, Sheet& sheet) {
  sheet.rank = static_cast<int>(i) + 1;
  sheet.id = "point-" + std::to_string(i + 1);
  sheet.layout.title = brief::made_title(title, "trade-off point " + std::to_string(i + 1));
  if (sheet.drawn) sheet.drawn->title = sheet.layout.title;
}

/// The fronts of every linkage that has layouts to start from.
class Fronts {
 public:
  explicit Fronts(const Setup& setup) : setup_(setup) {
    for (std::int64_t l = 0; l < setup.linkage_count(); ++l) starts_.push_back({TradeOffStarts(setup.of(l)), true});
  }
  /// Looks at the next layout in order of merit. False once no further one could be taken.
  bool offer(const store::LayoutRow& row) {
    if (row.musts_met != row.musts) return false;
    auto& [starts, open] = starts_[static_cast<std::size_t>(row.linkage)];
    open = open && starts.offer(row);
    return std::any_of(starts_.begin(), starts_.end(), [](const auto& s) { return s.second; });
  }
  std::vector<TradeOffSheet> find(const Effort& effort) const {
    std::vector<TradeOffTask> tasks;
    for (std::size_t l = 0; l < starts_.size(); ++l) {
      TradeOffTask task{&setup_.of(static_cast<std::int64_t>(l)), starts_[l].first.found()};
      const bool none =
          std::all_of(task.starts.begin(), task.starts.end(), [](const auto& rows) { return rows.empty(); });
      if (!none || starts_.size() == 1) tasks.push_back(std::move(task));
    }
    std::vector<std::vector<TradeOffSheet>> found = find_trade_offs(tasks, effort);
    std::vector<TradeOffSheet> sheets;
    for (std::size_t l = 0; l < tasks.size(); ++l)
      for (TradeOffSheet& sheet : found[l]) {
        const brief::Brief& own = tasks[l].setup->brief;
        sheet.linkage = own.linkage_title;
        const std::string title = sheet.linkage.empty() ? own.layout.title : sheet.linkage;
        for (std::size_t i = 0; i < sheet.points.size(); ++i) name_point(title, i, sheet.points[i].sheet);
        sheets.push_back(std::move(sheet));
      }
    return sheets;
  }

 private:
  const Setup& setup_;
  std::vector<std::pair<TradeOffStarts, bool>> starts_;  ///< whether it still takes any
};

}  // namespace

std::vector<std::string> shortlist_ids(const Setup& setup, const store::StudyFile& file, std::int64_t past) {
  Feel feel(setup);
  Picker picker = shortlist_picker(setup, feel);
  file.each_ranked([&](const store::LayoutRow& row) { return row.unit >= past || picker.offer(row); });
  std::vector<std::string> ids;
  for (const store::LayoutRow& row : picker.picked()) ids.push_back(layout_id(row));
  return ids;
}

namespace {

void add_accounts(const std::vector<objectives::Target>& targets, std::vector<Sheet>& sheets) {
  std::vector<const objectives::Assessment*> all;
  all.reserve(sheets.size());
  for (const Sheet& sheet : sheets) all.push_back(&sheet.assessment);
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    sheets[i].account = account_of(targets, all, i);
    const auto alike = [&](const Sheet& sheet) { return sheet.linkage == sheets[i].linkage; };
    sheets[i].account.first_of_linkage =
        !sheets[i].linkage.empty() &&
        std::none_of(sheets.begin(), sheets.begin() + static_cast<std::ptrdiff_t>(i), alike);
  }
  // A yield says something where it differs by more than chance.
  const auto yield = [&](std::size_t i) { return sheets[i].tolerance ? sheets[i].tolerance->yield : Share{}; };
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    bool highest = sheets.size() > 1 && yield(i).of > 0, lowest = highest;
    for (std::size_t j = 0; j < sheets.size(); ++j) {
      if (i == j) continue;
      highest = highest && yield(i).lo > yield(j).share();
      lowest = lowest && yield(i).hi < yield(j).share();
    }
    sheets[i].account.highest_yield = highest;
    sheets[i].account.lowest_yield = lowest;
  }
}

/// The shortlist in its order, from the layouts that were picked for it.
std::vector<store::LayoutRow> in_order(const Setup& setup, std::vector<store::LayoutRow> picked, const Effort& effort) {
  const brief::Brief& brief = setup.brief;
  if (!brief.search.rank_by_yield || !brief.tolerances) return picked;
  std::vector<std::pair<std::int64_t, std::size_t>> kept(picked.size());  // the fewer the later; ties in order of merit
  effort.each("frames built to rank by yield", picked.size(), [&](std::size_t i) {
    const Setup& own = setup.of(picked[i].linkage);
    const bike::Layout layout = own.design.layout(picked[i].design, static_cast<int>(picked[i].choice));
    const Drawing drawing{layout, own.brief.targets, own.brief.packaging, own.instruction_set};
    const auto heed = [&] { effort.heed(); };
    kept[i] = {-yield_of(drawing, *own.brief.tolerances, brief.search.seed, heed).kept, i};
  });
  std::stable_sort(kept.begin(), kept.end(), [&](const auto& a, const auto& b) {
    const std::int64_t met_a = picked[a.second].musts_met, met_b = picked[b.second].musts_met;
    return met_a != met_b ? met_a > met_b : a.first < b.first;
  });
  std::vector<store::LayoutRow> out;
  for (const auto& [yield, i] : kept)
    if (static_cast<int>(out.size()) < brief.search.shortlist) out.push_back(picked[i]);
  return out;
}

/// What tolerances do to a shortlisted layout; without any, its slopes.
ToleranceSheet tolerance_of(const Setup& setup, const store::LayoutRow& row, const bike::CurveTable& table,
                            const std::function<void()>& heed) {
  const Setup& own = setup.of(row.linkage);
  const brief::Brief& brief = own.brief;
  const bike::Layout layout = own.design.layout(row.design, static_cast<int>(row.choice));
  const Drawing drawing{layout, brief.targets, brief.packaging, own.instruction_set};
  if (!brief.tolerances) return study_slopes(drawing);
  return study_tolerances(drawing, *brief.tolerances, setup.brief.search.seed, banded(table), heed);
}

Families families_of(FamilyFinder& finder, const std::vector<store::LayoutRow>& shortlisted, const Effort& effort) {
  for (const store::LayoutRow& row : shortlisted) finder.insist(row);
  finder.join(effort);
  return finder.sheet(effort);
}

}  // namespace

StudyReport make_report(const Setup& setup, const store::StudyFile& file, const std::string& study_name,
                        const Effort& effort) {
  const auto heed = [&] { effort.heed(); };
  effort.say("reading the study");
  StudyReport report;
  report.brief = setup.brief;
  for (const brief::Brief& one : setup.brief.linkages)
    report.linkages.push_back({.name = one.linkage, .title = one.linkage_title});
  FamilyFinder families(setup);
  report.summary = summary_of(file, families, report.linkages, heed);
  report.summary.study = study_name;
  const brief::SearchOptions& options = setup.brief.search;
  Feel feel(setup);
  Picker picker = shortlist_picker(setup, feel);
  Fronts fronts(setup);
  bool picking = true, starting = !options.trade_offs.empty();
  std::vector<store::LayoutRow> near;
  std::vector<std::optional<store::LayoutRow>> best(report.linkages.size());
  const auto all_seen = [&] {
    for (std::size_t l = 0; l < best.size(); ++l)
      if (!best[l] && report.linkages[l].kept > 0) return false;
    return true;
  };
  file.each_ranked([&](const store::LayoutRow& row) {
    heed();
    if (report.marks.size() < most_marks) report.marks.push_back(mark_of(setup, row));
    if (near.size() < most_near && (near.empty() || near.front().linkage == row.linkage)) near.push_back(row);
    if (!best.empty() && !best[static_cast<std::size_t>(row.linkage)])
      best[static_cast<std::size_t>(row.linkage)] = row;
    picking = picking && picker.offer(row);
    starting = starting && fronts.offer(row);
    return picking || starting || report.marks.size() < most_marks || !all_seen();
  });
  report.families = families_of(families, picker.picked(), effort);
  if (!options.trade_offs.empty()) report.trade_offs = fronts.find(effort);
  // A slice is not the study, and does not ask why.
  if (report.summary.feasible == 0 && file.head().slices == 1) {
    effort.say("which demands conflict");
    const std::int64_t linkage = near.empty() ? 0 : near.front().linkage;
    report.conflict = find_conflict(setup, linkage, near, effort);
  }
  // What the closer look found goes on the list in place of what misses a must.
  const bool closer = report.conflict && !report.conflict->found.empty();
  if (closer) {
    picker = shortlist_picker(setup, feel);
    for (const store::LayoutRow& row : report.conflict->found)
      if (!picker.offer(row)) break;
  }
  const auto failed = [&](const store::LayoutRow& row, const bike::MotionFailure& failure) {
    // A stop that only the detailed trace finds; the layout is counted among the failures, not shown.
    report.summary.failures.push_back({layout_id(row) + " " + failure.text, 1});
  };
  const std::vector<store::LayoutRow> rows = in_order(setup, picker.picked(), effort);
  std::vector<Sheet> sheets(rows.size());
  std::vector<std::optional<bike::MotionFailure>> failures(rows.size());
  effort.each("layouts of the shortlist", rows.size(), [&](std::size_t i) {
    try {
      sheets[i] = sheet_of_row(setup, rows[i]);
      if (closer) mark_as_closer(rows[i], sheets[i]);
      sheets[i].tolerance = tolerance_of(setup, rows[i], sheets[i].motion.table, heed);
    } catch (const bike::MotionFailure& failure) {
      failures[i] = failure;
    }
  });
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (failures[i]) {
      failed(rows[i], *failures[i]);
      continue;
    }
    Sheet& sheet = sheets[i];
    sheet.rank = static_cast<int>(report.shortlist.size()) + 1;
    if (sheet.closer_look) {
      report.marks.insert(report.marks.begin() + (sheet.rank - 1), mark_of(setup, rows[i]));
      report.marks[static_cast<std::size_t>(sheet.rank - 1)].id = sheet.id;
    }
    for (Mark& mark : report.marks)
      if (mark.id == sheet.id) mark.rank_in_shortlist = sheet.rank;
    report.shortlist.push_back(std::move(sheet));
  }
  add_accounts(setup.brief.targets, report.shortlist);
  for (Family& family : report.families.families)
    for (const Sheet& sheet : report.shortlist)
      if (std::find(family.members.begin(), family.members.end(), sheet.id) != family.members.end())
        family.shortlisted.push_back(sheet.rank);
  for (std::size_t l = 0; l < best.size(); ++l) {
    heed();
    LinkageSheet& linkage = report.linkages[l];
    linkage.proven = proven_conflicts(setup.brief.linkages[l]);
    if (closer && l == report.conflict->linkage && !report.shortlist.empty()) {
      linkage.best = report.shortlist.front();
      continue;
    }
    if (!best[l]) continue;
    const std::string id = layout_id(*best[l]);
    const auto listed =
        std::find_if(report.shortlist.begin(), report.shortlist.end(), [&](const Sheet& s) { return s.id == id; });
    try {
      linkage.best = listed != report.shortlist.end() ? *listed : sheet_of_row(setup, *best[l]);
    } catch (const bike::MotionFailure& failure) {
      failed(*best[l], failure);
    }
  }
  return report;
}

}  // namespace trammel::search
