#include "search/picker.hpp"

#include <algorithm>
#include <cmath>

#include "objectives/wish.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

/// Ordered by yield, a shortlist is taken from so many times as many layouts that are the best by their score.
constexpr int pool = 4;
/// Layouts that miss the same are so many times as far apart as others.
constexpr double if_alike = 2.0;

/// Whether two layouts of one linkage miss the same musts by the same amounts, each within its tolerance; of packaging,
/// as many rules.
bool miss_alike(const std::vector<objectives::Target>& targets, const store::LayoutRow& a, const store::LayoutRow& b) {
  if (a.musts_met != b.musts_met) return false;
  for (std::size_t i = 0; i < targets.size(); ++i) {
    const objectives::Target& target = targets[i];
    if (!target.must || std::abs(a.achieved[i] - b.achieved[i]) <= target.tolerance) continue;
    // What a path to follow allows depends on the place, which a row does not tell.
    const objectives::Allowed allowed = objectives::allowed_at(target, 0.0);
    const bool both_met = !target.wish.along_path() && objectives::margin(allowed, a.achieved[i]) >= 0.0 &&
                          objectives::margin(allowed, b.achieved[i]) >= 0.0;
    if (!both_met) return false;
  }
  return true;
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

// Costs a motion of the layout, so it is asked only of those that are apart in their pivots.
bool Picker::feels_apart(const store::LayoutRow& row) {
  if (feel_ == nullptr || !(distinct_curves_ > 0.0)) return true;
  std::vector<double> felt = feel_->of(row);
  for (std::size_t i = 0; i < felt_.size(); ++i)
    if (picked_[i].linkage == row.linkage && difference(felt, felt_[i]) < distinct_curves_) return false;
  felt_.push_back(std::move(felt));
  return true;
}

bool Picker::misses_apart(const store::LayoutRow& row) const {
  if (!alike_ || row.musts_met == row.musts) return true;
  return std::all_of(picked_.begin(), picked_.end(), [&](const store::LayoutRow& p) {
    return p.linkage != row.linkage || p.choice != row.choice ||
           distance(p.design, row.design) >= if_alike * distinct_ || !alike_(p, row);
  });
}

bool Picker::offer(const store::LayoutRow& row) {
  const bool worse_kind =
      !picked_.empty() && picked_.front().musts_met == picked_.front().musts && row.musts_met != row.musts;
  if (worse_kind) return false;
  std::optional<store::LayoutRow>& best = best_.size() == 1 ? best_[0] : best_[static_cast<std::size_t>(row.linkage)];
  if (!best) best = row;
  const bool apart = std::all_of(picked_.begin(), picked_.end(), [&](const store::LayoutRow& p) {
    return p.linkage != row.linkage || p.choice != row.choice || distance(p.design, row.design) >= distinct_;
  });
  if (apart && count() < count_ && misses_apart(row) && feels_apart(row)) picked_.push_back(row);
  return count() < count_ || std::any_of(best_.begin(), best_.end(), [](const auto& b) { return !b; });
}

std::vector<store::LayoutRow> Picker::picked() const {
  if (best_.size() == 1) return picked_;
  std::vector<store::LayoutRow> out = picked_;
  const auto shown = [&](std::int64_t linkage) {
    return std::count_if(out.begin(), out.end(), [&](const store::LayoutRow& p) { return p.linkage == linkage; });
  };
  for (const auto& best : best_) {
    if (!best || shown(best->linkage) > 0) continue;
    // The last one whose linkage has another makes room.
    const auto spare = std::find_if(out.rbegin(), out.rend(), [&](const auto& p) { return shown(p.linkage) > 1; });
    if (static_cast<int>(out.size()) >= count_ && spare != out.rend()) out.erase(std::next(spare).base());
    out.push_back(*best);
  }
  std::sort(out.begin(), out.end(), ranks_before);
  return out;
}

std::vector<store::LayoutRow> pick_distinct(const std::vector<store::LayoutRow>& ranked, int count, double distinct) {
  Picker picker(count, distinct);
  for (const store::LayoutRow& row : ranked)
    if (!picker.offer(row)) break;
  return picker.picked();
}

Picker shortlist_picker(const Setup& setup, Feel& feel) {
  const brief::SearchOptions& options = setup.brief.search;
  const int count = options.shortlist * (options.rank_by_yield ? pool : 1);
  Picker picker(count, options.distinct, setup.linkage_count(), options.distinct_curves, feel);
  picker.tell_misses_by([&setup](const store::LayoutRow& a, const store::LayoutRow& b) {
    return miss_alike(setup.of(a.linkage).brief.targets, a, b);
  });
  return picker;
}

}  // namespace trammel::search
