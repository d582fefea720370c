#include "search/families.hpp"

#include <algorithm>

#include "linkage/branches.hpp"
#include "search/apart.hpp"
#include "search/family_reach.hpp"
#include "search/picker.hpp"
#include "search/unit.hpp"

namespace trammel::search {
namespace {

/// Paths are looked at from every layout to so many others, the nearest ones …
constexpr std::size_t nearest = 5;
/// … then between every two families by so many, the shortest ones, …
constexpr std::size_t between = 3;
/// … but in all by no more than these, straight and by a waypoint.
constexpr std::size_t most_straight = 600;
constexpr std::size_t most_by_waypoint = 40;
/// Families whose extents are sought beyond the layouts found.
constexpr std::size_t most_pushed = 12;
/// Of each, they are sought from so many of the best layouts, beside those at the ends.
constexpr int good_starts = 2;

}  // namespace

FeasibleComponents::FeasibleComponents(const Setup& setup, int choice) : setup_(setup), choice_(choice) {}

void FeasibleComponents::add(const store::LayoutRow& row) {
  parent_.push_back(rows_.size());
  rows_.push_back(row);
}

std::size_t FeasibleComponents::root(std::size_t i) const {
  while (parent_[i] != i) i = parent_[i];
  return i;
}

/// The lower number becomes the root, whatever the order.
void FeasibleComponents::unite(std::size_t i, std::size_t j) {
  const std::size_t a = root(i), b = root(j);
  parent_[std::max(a, b)] = std::min(a, b);
}

/// Every layout that has not been joined with its nearest, nearest pairs first.
std::vector<FeasibleComponents::Pair> FeasibleComponents::neighbours() const {
  std::vector<Pair> out, own;
  for (std::size_t i = joined_; i < rows_.size(); ++i) {
    own.clear();
    for (std::size_t j = 0; j < rows_.size(); ++j)
      if (j != i) own.push_back({distance(rows_[i].design, rows_[j].design), std::min(i, j), std::max(i, j)});
    const auto past = own.begin() + static_cast<std::ptrdiff_t>(std::min(nearest, own.size()));
    std::partial_sort(own.begin(), past, own.end());
    out.insert(out.end(), own.begin(), past);
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

/// The `most` nearest pairs between every two families, but for some, nearest first.
std::vector<FeasibleComponents::Pair> FeasibleComponents::between_families(std::size_t most, const Pairs& but) const {
  std::map<std::pair<std::size_t, std::size_t>, std::vector<Pair>> of;
  std::vector<std::size_t> roots;
  for (std::size_t i = 0; i < rows_.size(); ++i) roots.push_back(root(i));
  for (std::size_t j = 1; j < rows_.size(); ++j)
    for (std::size_t i = 0; i < j; ++i) {
      const std::size_t a = roots[i], b = roots[j];
      if (a == b || but.count({i, j}) > 0) continue;
      std::vector<Pair>& pairs = of[{std::min(a, b), std::max(a, b)}];
      const Pair pair{distance(rows_[i].design, rows_[j].design), i, j};
      pairs.insert(std::upper_bound(pairs.begin(), pairs.end(), pair), pair);
      if (pairs.size() > most) pairs.pop_back();
    }
  std::vector<Pair> out;
  for (const auto& [families, pairs] : of) out.insert(out.end(), pairs.begin(), pairs.end());
  std::sort(out.begin(), out.end());
  return out;
}

/// Whether any two families became one.
bool FeasibleComponents::join_straight(const Effort& effort, const std::vector<Pair>& pairs) {
  bool any = false;
  std::size_t left = most_straight + nearest * rows_.size();
  for (const Pair& p : pairs) {
    if (root(p.one) == root(p.other) || tried_.count({p.one, p.other}) > 0) continue;
    if (left-- == 0) {
      all_tried_ = false;
      break;
    }
    effort.heed();
    tried_.insert({p.one, p.other});
    ++paths_;
    if (!path_->straight(rows_[p.one].design, rows_[p.other].design)) continue;
    unite(p.one, p.other);
    any = true;
  }
  return any;
}

bool FeasibleComponents::join_by_waypoint(const Effort& effort) {
  bool any = false;
  for (const Pair& p : between_families(1, tried_by_waypoint_)) {
    if (root(p.one) == root(p.other)) continue;
    if (tried_by_waypoint_.size() == most_by_waypoint) {
      all_tried_ = false;
      break;
    }
    effort.heed();
    tried_by_waypoint_.insert({p.one, p.other});
    paths_ += 2;
    if (!path_->waypoint(rows_[p.one].design, rows_[p.other].design)) continue;
    unite(p.one, p.other);
    any = true;
  }
  return any;
}

void FeasibleComponents::join(const Effort& effort) {
  before_ = joined_;
  if (joined_ == rows_.size()) return;
  if (!path_) path_ = std::make_unique<FeasiblePath>(setup_, choice_);
  join_straight(effort, neighbours());
  joined_ = rows_.size();
  do {
    while (join_straight(effort, between_families(between, tried_))) continue;
  } while (join_by_waypoint(effort));
}

bool FeasibleComponents::brought_a_family() const {
  std::vector<bool> old(rows_.size(), false);
  for (std::size_t i = 0; i < before_; ++i) old[root(i)] = true;
  for (std::size_t i = before_; i < rows_.size(); ++i)
    if (!old[root(i)]) return true;
  return false;
}

std::vector<std::vector<std::size_t>> FeasibleComponents::families() const {
  std::map<std::size_t, std::vector<std::size_t>> of;
  for (std::size_t i = 0; i < rows_.size(); ++i) of[root(i)].push_back(i);
  std::vector<std::vector<std::size_t>> out;
  out.reserve(of.size());
  for (auto& [first, members] : of) out.push_back(std::move(members));
  return out;
}

FeasibleComponents& FamilyFinder::components_of(const store::LayoutRow& row) {
  const Setup& own = setup_.of(row.linkage);
  const auto choice = static_cast<int>(row.choice);
  const std::size_t model = static_cast<std::size_t>(choice) * own.cases.size();
  std::vector<math::Vec2<double>> points;
  own.design.place<double>(row.design, choice, points);
  std::unique_ptr<FeasibleComponents>& components =
      components_[{row.linkage, row.choice, linkage::branches(own.models[model].program, points)}];
  if (!components) components = std::make_unique<FeasibleComponents>(own, choice);
  return *components;
}

void FamilyFinder::add(const store::UnitRow& unit) {
  refinements_ += unit.refined;
  for (const store::LayoutRow& row : unit.layouts) {
    if (row.musts_met != row.musts) continue;
    ++feasible_;
    FeasibleComponents& components = components_of(row);
    if (components.rows().size() < FeasibleComponents::most_layouts) components.add(row);
  }
}

void FamilyFinder::insist(const store::LayoutRow& row) {
  if (row.musts_met != row.musts) return;
  FeasibleComponents& components = components_of(row);
  const auto there = [&](const store::LayoutRow& known) { return known.unit == row.unit && known.place == row.place; };
  if (std::none_of(components.rows().begin(), components.rows().end(), there)) components.add(row);
}

void FamilyFinder::join(const Effort& effort) {
  std::vector<FeasibleComponents*> all;
  for (auto& [key, components] : components_) all.push_back(components.get());
  effort.each("families of layouts", all.size(), [&](std::size_t i) { all[i]->join(effort); });
}

bool FamilyFinder::brought_a_family() const {
  return std::any_of(components_.begin(), components_.end(),
                     [](const auto& components) { return components.second->brought_a_family(); });
}

namespace {

/// A family, its components and its layouts, before they become a sheet.
struct Draft {
  const FeasibleComponents* components;
  int assembly;
  std::vector<std::size_t> members;
  const store::LayoutRow* best;
};

Family family_of(const Draft& draft, double distinct) {
  const Setup& own = draft.components->setup();
  const store::LayoutRow& best = *draft.best;
  Family out;
  out.linkage = own.brief.linkage_title;
  out.layout = own.design.layout(best.design, draft.components->choice());
  out.assembly = draft.assembly;
  out.best = layout_id(best);
  out.score = best.score;
  out.margin = best.margin;
  Apart apart(distinct);
  for (const std::size_t m : draft.members) {
    out.members.push_back(layout_id(draft.components->rows()[m]));
    apart.add(draft.components->rows()[m].design);
  }
  out.apart = static_cast<std::int64_t>(apart.count());
  return out;
}

/// The best layouts of a family that differ.
std::vector<std::vector<double>> starts_of(const Draft& draft, double distinct) {
  std::vector<store::LayoutRow> rows;
  for (const std::size_t m : draft.members) rows.push_back(draft.components->rows()[m]);
  std::sort(rows.begin(), rows.end(), ranks_before);
  std::vector<std::vector<double>> out;
  for (store::LayoutRow& row : pick_distinct(rows, good_starts, distinct)) out.push_back(std::move(row.design));
  return out;
}

/// Pushed from the layouts that lie at its ends, and from some others, `starts`, if there are any.
FamilyExtent extent_of(const Draft& draft, std::size_t v, const std::vector<std::vector<double>>& starts) {
  const Setup& own = draft.components->setup();
  const Variable& variable = own.design.variables()[v];
  const auto design = [&](std::size_t m) -> const std::vector<double>& { return draft.components->rows()[m].design; };
  const auto [least, most] =
      std::minmax_element(draft.members.begin(), draft.members.end(),
                          [&](std::size_t a, std::size_t b) { return design(a)[v] < design(b)[v]; });
  double lo = design(*least)[v], hi = design(*most)[v];
  FamilyExtent out{variable.name, variable.unit, variable.lo, variable.hi, variable.at(lo), variable.at(hi), 0.0, 0.0};
  if (!starts.empty()) {
    FamilyReach reach(own, draft.components->choice());
    const auto from = [&](std::size_t end) {
      std::vector<std::vector<double>> all = starts;
      all.insert(all.begin(), design(end));
      return all;
    };
    lo = std::min(lo, reach.farthest(from(*least), v, false));
    hi = std::max(hi, reach.farthest(from(*most), v, true));
  }
  out.shown_lo = variable.at(lo);
  out.shown_hi = variable.at(hi);
  return out;
}

}  // namespace

Families FamilyFinder::sheet(const Effort& effort) const {
  Families out;
  out.places = FeasiblePath::steps - 1;
  out.sorts = static_cast<std::int64_t>(components_.size());
  out.feasible = feasible_;
  std::vector<Draft> drafts;
  Encounters encounters;
  std::map<std::pair<std::int64_t, std::int64_t>, int> assemblies;
  for (const auto& [key, components] : components_) {
    const int assembly = ++assemblies[{std::get<0>(key), std::get<1>(key)}];
    out.looked_at += static_cast<std::int64_t>(components->rows().size());
    out.paths += components->paths();
    out.all_tried = out.all_tried && components->all_tried();
    for (std::vector<std::size_t>& members : components->families()) {
      const store::LayoutRow* best = &components->rows()[members.front()];
      for (const std::size_t m : members) {
        encounters.add(drafts.size());
        if (ranks_before(components->rows()[m], *best)) best = &components->rows()[m];
      }
      drafts.push_back({components.get(), assembly, std::move(members), best});
    }
  }
  encounters.add_fruitless(refinements_ - encounters.refinements());
  out.unseen = encounters.unseen();
  std::sort(drafts.begin(), drafts.end(),
            [](const Draft& a, const Draft& b) { return ranks_before(*a.best, *b.best); });

  std::vector<std::vector<std::vector<double>>> starts;  // of each family; none where it is not pushed
  /// One variable of one family.
  struct Task {
    std::size_t family, variable;
  };
  std::vector<Task> tasks;
  for (std::size_t f = 0; f < drafts.size(); ++f) {
    out.families.push_back(family_of(drafts[f], setup_.brief.search.distinct));
    out.families.back().pushed = f < most_pushed;
    starts.push_back(f < most_pushed ? starts_of(drafts[f], setup_.brief.search.distinct)
                                     : std::vector<std::vector<double>>{});
    out.families.back().assemblies = assemblies.at({drafts[f].best->linkage, drafts[f].best->choice});
    const auto& variables = drafts[f].components->setup().design.variables();
    out.families.back().extents.resize(variables.size());
    for (std::size_t v = 0; v < variables.size(); ++v) tasks.push_back({f, v});
  }
  effort.each("extents of families", tasks.size(), [&](std::size_t t) {
    const auto [f, v] = tasks[t];
    out.families[f].extents[v] = extent_of(drafts[f], v, starts[f]);
  });
  return out;
}

}  // namespace trammel::search
