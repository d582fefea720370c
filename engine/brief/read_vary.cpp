#include <algorithm>
#include <cmath>
#include <numbers>

#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/shock_sizes.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

Range read_range(const Node* group, std::string_view key, double drawn) {
  const Node* node = sound(group, key);
  if (node == nullptr) return {drawn, drawn};
  if (const auto ends = two_numbers(node)) return {ends->first, ends->second};
  const double value = read_number(*node).value.value_or(drawn);
  return {value, value};
}

bool is_eye(const linkage::Drive& drive, int point) {
  return point == drive.a || point == drive.b;
}

Polar read_polar(const Node& node, int point, const bike::Layout& layout, Problems& problems) {
  const auto& mechanism = layout.mechanism;
  const Node* from = sound(&node, "from");
  Polar polar;
  polar.from = find_point(from, mechanism, problems);
  if (polar.from >= 0 && polar.from == point) {
    problems.add(*from, describe(*from) + " was given, but a point cannot be placed from itself");
    polar.from = -1;
  }
  linkage::Point drawn{};
  if (polar.from >= 0) {
    drawn = mechanism.points[static_cast<std::size_t>(point)] - mechanism.points[static_cast<std::size_t>(polar.from)];
  }
  polar.length_is_shock = word(&node, "length") == "shock";
  const double length = polar.length_is_shock && layout.shock ? layout.shock->length : norm(drawn);
  polar.length = read_range(polar.length_is_shock ? nullptr : &node, "length", length);
  polar.angle = read_range(&node, "angle", std::atan2(drawn.y, drawn.x) * 180.0 / std::numbers::pi);
  if (polar.angle.hi - polar.angle.lo > 360.0) {
    problems.add(*node.find("angle"), "the range spans more than 360 degrees");
  }
  const auto& drive = mechanism.drive;
  if (polar.length_is_shock && !layout.shock) {
    problems.add(*node.find("length"), "shock was given, but the layout has no shock");
  } else if (polar.length_is_shock && polar.from >= 0 && drive.a >= 0 && drive.b >= 0 &&
             !(is_eye(drive, point) && is_eye(drive, polar.from))) {
    problems.add(*node.find("length"), "shock was given, but the shock's eyes are " +
                                           mechanism.point_names[static_cast<std::size_t>(drive.a)] + " and " +
                                           mechanism.point_names[static_cast<std::size_t>(drive.b)]);
  }
  return polar;
}

int placed_from(const Vary& vary) {
  const auto* polar = std::get_if<Polar>(&vary.place);
  return polar == nullptr ? -1 : polar->from;
}

/// Puts every point behind the one it is placed from, else in the order of the brief; reports circles.
std::vector<Vary> in_order(std::vector<Vary> waiting, const Node& vary, const linkage::Mechanism& mechanism,
                           Problems& problems) {
  std::vector<Vary> ordered;
  while (!waiting.empty()) {
    const auto free = std::find_if(waiting.begin(), waiting.end(), [&](const Vary& candidate) {
      return std::none_of(waiting.begin(), waiting.end(),
                          [&](const Vary& other) { return other.point == placed_from(candidate); });
    });
    if (free == waiting.end()) break;
    ordered.push_back(*free);
    waiting.erase(free);
  }
  for (const auto& stuck : waiting) {
    const auto name = [&](int point) { return mechanism.point_names[static_cast<std::size_t>(point)]; };
    const Node* from = vary.find(name(stuck.point))->find("from");
    problems.add(*from, name(placed_from(stuck)) + " was given, but it is itself placed from " + name(stuck.point) +
                            " or from another point of a circle; place one of them by x and y");
  }
  return ordered;
}

void read_shocks(const Node& root, Brief& brief, Problems& problems) {
  const Node* list = sound(sound(&root, "choose"), "shock");
  if (list == nullptr) return;
  if (!brief.layout.shock && sound(&root, "drive") != nullptr) {
    problems.add(*list, "shock sizes were given, but the layout has no shock");
  }
  const Node* choose = root.find("choose");
  const bool usual = list->kind != Node::Kind::list;
  for (const char* key : {"shock_length", "shock_stroke"})
    if (const Node* limits = sound(choose, key); limits != nullptr && !usual)
      problems.add(*limits, "limits were given; they go with a word for the usual sizes, and here sizes are listed");
  if (usual) {
    const auto holds = [&](const char* key, double size) {
      const auto limits = two_numbers(sound(choose, key));
      return !limits || (limits->first <= size && size <= limits->second);
    };
    for (const ShockSize& size : shock_sizes(list->text))
      if (holds("shock_length", size.length) && holds("shock_stroke", size.stroke)) brief.shocks.push_back(size);
    if (brief.shocks.empty())
      problems.add(*list, describe(*list) + " was given, but no usual size is within the limits");
    return;
  }
  for (const auto& node : list->items) {
    ShockSize size;
    take_number(&node, "length", size.length);
    take_number(&node, "stroke", size.stroke);
    const auto same = [&](const ShockSize& other) {
      return other.length == size.length && other.stroke == size.stroke;
    };
    if (!number(&node, "length") || !number(&node, "stroke")) continue;
    if (size.stroke >= size.length) {
      problems.add(node, "stroke " + rounded_text(size.stroke) + " was given, but it must be below the length, " +
                             rounded_text(size.length));
    } else if (std::any_of(brief.shocks.begin(), brief.shocks.end(), same)) {
      problems.add(node, "this size was given before");
    }
    brief.shocks.push_back(size);
  }
}

void read_idlers(const Node& root, Brief& brief, Problems& problems) {
  const Node* list = sound(sound(&root, "choose"), "idler");
  if (list == nullptr) return;
  const Node* train = root.find("drivetrain");
  if (train == nullptr || train->find("idler") == nullptr)
    problems.add(*list, "idlers were given, but the drivetrain has no idler");
  if (!brief.layout.drivetrain.idler) return;
  for (const Node& item : list->items)
    if (const auto teeth = read_number(item).value; teeth && !item.flawed)
      brief.idlers.push_back(static_cast<int>(*teeth));
}

/// The shock's length holds in one of two ways: as drawn, or by construction from `length: shock`.
void check_shock_length(const Node& root, const Brief& brief, Problems& problems) {
  const auto& mechanism = brief.layout.mechanism;
  const auto& drive = mechanism.drive;
  const Node* shock = sound(&root, "shock");
  if (shock == nullptr || !brief.layout.shock || drive.a < 0 || drive.b < 0) return;
  const bool read_off = sound(sound(&root, "linkage"), "picture") != nullptr;  // which has been held against it before
  const auto by_construction = [](const Vary& vary) {
    const auto* polar = std::get_if<Polar>(&vary.place);
    return polar != nullptr && polar->length_is_shock;
  };
  if (std::any_of(brief.vary.begin(), brief.vary.end(), by_construction)) return;

  const auto name = [&](int point) { return mechanism.point_names[static_cast<std::size_t>(point)]; };
  const auto moved =
      std::find_if(brief.vary.begin(), brief.vary.end(), [&](const Vary& vary) { return is_eye(drive, vary.point); });
  const std::string remedy = "; place one eye from the other, as in vary: { " + name(drive.a) +
                             ": { from: " + name(drive.b) + ", length: shock, angle: [low, high] } }";
  if (moved != brief.vary.end()) {
    const Node& entry = *root.find("vary")->find(name(moved->point));
    problems.add(entry, "this shock eye moves, but nothing holds the shock's length" + remedy);
    return;
  }
  if (const Node* choice = sound(sound(&root, "choose"), "shock")) {
    problems.add(*choice, "shock sizes were given, but both eyes stay as drawn" + remedy);
    return;
  }
  const Node* length = read_off ? nullptr : sound(shock, "length");
  const double drawn =
      norm(mechanism.points[static_cast<std::size_t>(drive.a)] - mechanism.points[static_cast<std::size_t>(drive.b)]);
  if (length == nullptr || !(std::abs(drawn - brief.layout.shock->length) > length_slack)) return;
  problems.add(*length, rounded_text(brief.layout.shock->length) + " was given, but " + name(drive.a) + " and " +
                            name(drive.b) + " are drawn " + rounded_text(drawn) +
                            " mm apart; move an eye or change the length, they must agree within " +
                            rounded_text(length_slack) + " mm");
}

/// Ranges that the search can move at once.
constexpr int most_variables = 64;

void check_variables(const Node& vary, const Brief& brief, Problems& problems) {
  const auto ranges = [](const Vary& entry) {
    const auto moving = [](const Range& range) { return range.fixed() ? 0 : 1; };
    if (const auto* polar = std::get_if<Polar>(&entry.place))
      return (polar->length_is_shock ? 0 : moving(polar->length)) + moving(polar->angle);
    const auto& place = std::get<Cartesian>(entry.place);
    return moving(place.x) + moving(place.y);
  };
  int variables = 0;
  for (const Vary& entry : brief.vary) variables += ranges(entry);
  if (variables == 0)
    problems.add(vary, "only single numbers were given, so nothing varies; give at least one range [low, high]");
  if (variables > most_variables)
    problems.add(vary, std::to_string(variables) + " ranges were given; at most " + std::to_string(most_variables) +
                           " can be searched at once");
}

}  // namespace

void read_vary(const Node& root, Brief& brief, Problems& problems) {
  read_shocks(root, brief, problems);
  read_idlers(root, brief, problems);
  const Node* vary = sound(&root, "vary");
  const auto& mechanism = brief.layout.mechanism;
  bool whole = true;  // every entry was readable, so that what follows does not report the same slip twice
  for (std::size_t i = 0; vary != nullptr && !mechanism.points.empty() && i < vary->keys.size(); ++i) {
    const Node& node = vary->items[i];
    const int point = find_point(vary->keys[i], node, mechanism, problems);
    const bool flawed =
        node.flawed || std::any_of(node.items.begin(), node.items.end(), [](const Node& item) { return item.flawed; });
    if (point < 0 || flawed) {
      whole = false;
      continue;
    }
    const auto drawn = mechanism.points[static_cast<std::size_t>(point)];
    if (node.find("from") != nullptr) {
      const Polar polar = read_polar(node, point, brief.layout, problems);
      whole = whole && polar.from >= 0;
      brief.vary.push_back({point, polar});
    } else {
      brief.vary.push_back({point, Cartesian{read_range(&node, "x", drawn.x), read_range(&node, "y", drawn.y)}});
    }
  }
  if (!whole) return;
  if (vary != nullptr) {
    check_variables(*vary, brief, problems);
    const std::size_t count = brief.vary.size();
    brief.vary = in_order(std::move(brief.vary), *vary, mechanism, problems);
    if (brief.vary.size() < count) return;
  }
  check_shock_length(root, brief, problems);
}

}  // namespace trammel::brief
