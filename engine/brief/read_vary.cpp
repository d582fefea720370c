#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/read_keep.hpp"
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

/// Reads how one point is placed.
class PlaceReader {
 public:
  PlaceReader(const Node& node, int point, const bike::Layout& layout, Problems& problems)
      : node_(node), point_(point), layout_(layout), mechanism_(layout.mechanism), problems_(problems) {}

  Vary read() {
    if (node_.find("mirrors") != nullptr) return {point_, mirrored()};
    if (node_.find("angle") != nullptr || node_.find("length") != nullptr || node_.find("as_long_as") != nullptr)
      return {point_, polar()};
    return {point_, cartesian()};
  }

 private:
  const linkage::Point& drawn(int point) const { return mechanism_.points[static_cast<std::size_t>(point)]; }
  const std::string& name(int point) const { return mechanism_.point_names[static_cast<std::size_t>(point)]; }

  /// Another point that a value names; −1 after a problem, which one that names the point itself is.
  int other(const Node* value) {
    const int found = find_point(value, mechanism_, problems_);
    if (found < 0 || found != point_) return found;
    problems_.add(*value, describe(*value) + " was given, but a point cannot be placed from itself");
    return -1;
  }

  std::pair<int, int> two_others(const Node* value) {
    if (value == nullptr || value->items.size() != 2) return {-1, -1};
    const int one = other(&value->items[0]);
    return {one, other(&value->items[1])};
  }

  Cartesian cartesian() {
    Cartesian out;
    linkage::Point at = drawn(point_);
    if (const Node* from = sound(&node_, "from")) {
      out.from = other(from);
      if (out.from >= 0) at = at - drawn(out.from);
    }
    out.x = read_range(&node_, "x", at.x);
    out.y = read_range(&node_, "y", at.y);
    return out;
  }

  Polar polar() {
    const linkage::Drive& drive = mechanism_.drive;
    Polar out;
    out.from = other(sound(&node_, "from"));
    const linkage::Point arm = out.from >= 0 ? drawn(point_) - drawn(out.from) : linkage::Point{};
    out.length_is_shock = word(&node_, "length") == "shock";
    if (const Node* pair = sound(&node_, "as_long_as")) out.as_long_as = two_others(pair);
    const double length = out.length_is_shock && layout_.shock ? layout_.shock->length : norm(arm);
    out.length = read_range(out.length_is_shock ? nullptr : &node_, "length", length);
    out.angle = read_range(&node_, "angle", std::atan2(arm.y, arm.x) * 180.0 / std::numbers::pi);
    if (out.angle.hi - out.angle.lo > 360.0)
      problems_.add(*node_.find("angle"), "the range spans more than 360 degrees");
    if (out.length_is_shock && !layout_.shock) {
      problems_.add(*node_.find("length"), "shock was given, but the layout has no shock");
    } else if (out.length_is_shock && out.from >= 0 && drive.a >= 0 && drive.b >= 0 &&
               !(is_eye(drive, point_) && is_eye(drive, out.from))) {
      problems_.add(*node_.find("length"),
                    "shock was given, but the shock's eyes are " + name(drive.a) + " and " + name(drive.b));
    }
    return out;
  }

  Mirrored mirrored() {
    const Node *mirrors = sound(&node_, "mirrors"), *about = sound(&node_, "about"), *line = sound(&node_, "across");
    Mirrored out;
    out.of = other(mirrors);
    if (line != nullptr)
      std::tie(out.about, out.through) = two_others(line);
    else
      out.about = other(about);
    if (out.of < 0 || (out.about != out.of && out.through != out.of)) return out;
    problems_.add(*mirrors, describe(*mirrors) + " was given, but it is its own mirror image " +
                                (line != nullptr ? "in a line through it" : "about itself"));
    return out;
  }

  const Node& node_;
  int point_;
  const bike::Layout& layout_;
  const linkage::Mechanism& mechanism_;
  Problems& problems_;
};

/// The value under a point's entry that names another.
const Node& naming(const Node& entry, const std::string& name) {
  for (const Node& value : entry.items) {
    if (value.text == name) return value;
    for (const Node& item : value.items)
      if (item.text == name) return item;
  }
  return entry;
}

/// Puts every point behind those that it needs, else in the order of the brief; reports circles.
std::vector<Vary> in_order(std::vector<Vary> waiting, const Node& vary, const linkage::Mechanism& mechanism,
                           Problems& problems) {
  std::vector<Vary> ordered;
  const auto waits = [&](int point) {
    return std::any_of(waiting.begin(), waiting.end(), [&](const Vary& other) { return other.point == point; });
  };
  while (!waiting.empty()) {
    const auto free = std::find_if(waiting.begin(), waiting.end(), [&](const Vary& candidate) {
      const std::vector<int> needs = candidate.needs();
      return std::none_of(needs.begin(), needs.end(), waits);
    });
    if (free == waiting.end()) break;
    ordered.push_back(*free);
    waiting.erase(free);
  }
  for (const auto& stuck : waiting) {
    const auto name = [&](int point) { return mechanism.point_names[static_cast<std::size_t>(point)]; };
    const std::vector<int> needs = stuck.needs();
    const std::string missing = name(*std::find_if(needs.begin(), needs.end(), waits));
    const Node* entry = vary.find(name(stuck.point));  // none of a point that a member takes along
    problems.add(entry == nullptr ? vary : naming(*entry, missing),
                 missing + " was given, but it is itself placed from " + name(stuck.point) +
                     " or from another point of a circle; place one of them by x and y");
  }
  return ordered;
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
    const Node* entry = root.find("vary")->find(name(moved->point));
    problems.add(entry == nullptr ? *root.find("vary") : *entry,
                 (entry == nullptr ? "shock eye " + name(moved->point) + " goes with a member that keeps its shape"
                                   : std::string("this shock eye moves")) +
                     ", but nothing holds the shock's length" + remedy);
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
      return (polar->own_length() ? moving(polar->length) : 0) + moving(polar->angle);
    const auto* place = std::get_if<Cartesian>(&entry.place);
    return place == nullptr ? 0 : moving(place->x) + moving(place->y);
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
    brief.vary.push_back(PlaceReader(node, point, brief.layout, problems).read());
    const std::vector<int> needs = brief.vary.back().needs();
    whole = whole && std::find(needs.begin(), needs.end(), -1) == needs.end() &&
            (node.find("from") == nullptr || !needs.empty());
  }
  if (!whole) return;
  if (vary != nullptr) {
    read_keep(root, brief, problems);
    check_variables(*vary, brief, problems);
    const std::size_t count = brief.vary.size();
    brief.vary = in_order(std::move(brief.vary), *vary, mechanism, problems);
    if (brief.vary.size() < count) return;
  }
  check_shock_length(root, brief, problems);
}

}  // namespace trammel::brief
