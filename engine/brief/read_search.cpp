#include <algorithm>
#include <cmath>
#include <set>

#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

std::optional<objectives::Interval> read_interval(const Node* node) {
  const auto ends = two_numbers(node);
  return ends ? std::optional(objectives::Interval{ends->first, ends->second}) : std::nullopt;
}

void read_packaging(const Node* node, Brief& brief, Problems& problems) {
  auto& packaging = brief.packaging;
  packaging.least_pivot_distance = number(node, "least_pivot_distance");
  take_number(node, "least_transmission_angle", packaging.least_transmission_angle);
  const Node* boxes = sound(node, "boxes");
  if (boxes == nullptr || brief.layout.mechanism.points.empty()) return;
  for (std::size_t i = 0; i < boxes->keys.size(); ++i) {
    const Node& box = boxes->items[i];
    const int point = find_point(boxes->keys[i], box, brief.layout.mechanism, problems);
    packaging.boxes.push_back({point, read_interval(sound(&box, "x")), read_interval(sound(&box, "y"))});
  }
}

int find_target(const Node& name, const Brief& brief, Problems& problems) {
  std::vector<std::string> names;
  for (const auto& target : brief.targets) names.push_back(target.name);
  const auto found = std::find(names.begin(), names.end(), name.text);
  if (found != names.end()) return static_cast<int>(found - names.begin());
  problems.add(name, describe(name) + " was given, but no target has that name" + suggestion(name.text, names));
  return -1;
}

void read_trade_off(const Node& node, Brief& brief, Problems& problems) {
  TradeOff trade_off;
  take_number(&node, "resolution", trade_off.resolution);
  trade_off.keep_wishes = word(&node, "keep") == "wishes";
  const Node* between = sound(&node, "between");
  if (between == nullptr) return;
  if (between->items.size() > 3)
    problems.add(*between, describe(*between) + " was given, but a trade-off is between two or three groups");
  std::set<int> used;
  for (const Node& group : between->items) {
    trade_off.between.emplace_back();
    for (const Node& name : group.items) {
      if (group.flawed || name.flawed) continue;
      const int target = find_target(name, brief, problems);
      if (target >= 0 && !used.insert(target).second)
        problems.add(name, describe(name) + " was given, but it is in this trade-off already");
      if (target >= 0 && brief.targets[static_cast<std::size_t>(target)].between)
        problems.add(name,
                     describe(name) + " compares settings or sizes; a trade-off is between what each of them has");
      trade_off.between.back().push_back(target);
    }
  }
  brief.search.trade_offs.push_back(std::move(trade_off));
}

/// Every range of a coordinate holds a step of the grid.
void check_grid(const Node* grid, const Brief& brief, Problems& problems) {
  if (grid == nullptr) return;
  const double step = brief.search.grid;
  for (const Vary& vary : brief.vary) {
    const auto* place = std::get_if<Cartesian>(&vary.place);
    if (place == nullptr) continue;
    for (const Range* range : {&place->x, &place->y})
      if (!range->fixed() && std::floor(range->hi / step) * step < range->lo)
        problems.add(*grid, describe(*grid) + " was given, but no step of it lies between " + rounded_text(range->lo) +
                                " and " + rounded_text(range->hi) + ", where " +
                                brief.layout.mechanism.point_names[static_cast<std::size_t>(vary.point)] + " may be");
  }
}

/// There is a grid, and an eye that goes to it.
void check_eye_error(const Node* given, const Brief& brief, Problems& problems) {
  if (given == nullptr) return;
  if (brief.search.grid <= 0.0) problems.add(*given, "eye_error goes with grid, the steps that the eyes are to lie on");
  const auto turns = [](const Vary& vary) {
    const auto* polar = std::get_if<Polar>(&vary.place);
    return polar != nullptr && polar->length_is_shock && !polar->angle.fixed();
  };
  if (std::none_of(brief.vary.begin(), brief.vary.end(), turns))
    problems.add(*given, "eye_error is of an eye placed by length: shock and a range of angles, and vary has none");
}

}  // namespace

void read_search(const Node& root, Brief& brief, Problems& problems) {
  brief.references = word(sound(&root, "references"), "folder");
  read_packaging(sound(&root, "packaging"), brief, problems);
  read_room(root, brief, problems);
  auto& search = brief.search;
  const Node* node = sound(&root, "search");
  take_number(node, "seed", search.seed);
  take_number(node, "units", search.units);
  take_number(node, "samples", search.samples);
  take_number(node, "refine", search.refine);
  take_number(node, "evaluations", search.evaluations);
  take_number(node, "shortlist", search.shortlist);
  take_number(node, "distinct", search.distinct);
  take_number(node, "distinct_curves", search.distinct_curves);
  take_number(node, "room", search.room);
  search.rank_by_yield = word(node, "rank") == "yield";
  search.yield = number(node, "yield");
  take_number(node, "grid", search.grid);
  check_grid(sound(node, "grid"), brief, problems);
  take_number(node, "eye_error", search.eye_error);
  check_eye_error(sound(node, "eye_error"), brief, problems);
  if (const Node* trade_offs = sound(node, "trade_offs")) {
    for (const Node& trade_off : trade_offs->items)
      if (!trade_off.flawed) read_trade_off(trade_off, brief, problems);
  }
  if (sound(node, "algorithm") != nullptr) search.algorithm = word(node, "algorithm");
}

}  // namespace trammel::brief
