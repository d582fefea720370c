#include "brief/expand_template.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "brief/sift.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

/// Lengths and angles are put on a grid of a thousandth, on which layouts are reported.
double on_grid(double value) {
  return std::round(value * 1000.0) / 1000.0 + 0.0;  // no −0
}

Node scalar(std::string text, Mark mark) {
  Node node;
  node.kind = Node::Kind::scalar;
  node.mark = mark;
  node.text = std::move(text);
  return node;
}

Node number_node(double value, Mark mark) {
  return scalar(exact_text(on_grid(value)), mark);
}

Node map_node(Mark mark) {
  Node node;
  node.kind = Node::Kind::map;
  node.mark = mark;
  return node;
}

void put(Node& map, const std::string& key, Mark mark, Node value) {
  map.keys.push_back({key, mark});
  map.items.push_back(std::move(value));
}

/// A value or range in mm or degrees; `node` as a brief's `vary` has it, and where it is drawn.
struct Length {
  Node node;
  double drawn = 0.0;
  bool varies = false;
};

/// As a brief allows of coordinates; of distances, above 0.
constexpr double farthest = 3000.0;

/// A value on the bike; one that a brief would not allow is reported.
double on_bike(const Node& given, const Scale& scale, bool distance, Problems& problems) {
  const NumberReading reading = read_scaled(given, scale);
  const double value = on_grid(reading.value.value_or(0.0));
  if (!reading.value)
    problems.add(given, describe(given) + " was given, which " + reading.flaw);
  else if (std::abs(value) > farthest || (distance && value <= 0.0))
    problems.add(given, describe(given) + " was given, which is " + rounded_text(value) +
                            " on this bike; allowed: from " + (distance ? "above 0" : rounded_text(-farthest)) +
                            " to " + rounded_text(farthest));
  return value;
}

Length length_of(const Node& given, const Scale& scale, bool distance, Problems& problems) {
  if (given.kind != Node::Kind::list) {
    const double value = on_bike(given, scale, distance, problems);
    return {number_node(value, given.mark), value, false};
  }
  Length out{given, 0.0, true};
  for (Node& end : out.node.items) {
    const double value = on_bike(end, scale, distance, problems);
    out.drawn += 0.5 * value;
    end = number_node(value, end.mark);
  }
  return out;
}

/// Places the points of a template and collects what of them varies.
class Placer {
 public:
  Placer(const Node& points, const Scale& scale) : points_(points), scale_(scale) {}

  /// False, with problems, when not all can be placed.
  bool place(Problems& problems) {
    Problems sizes = problems.emptied();
    for (bool more = true; more;) {
      more = false;
      for (std::size_t i = 0; i < points_.keys.size(); ++i) more = place_one(i, sizes) || more;
    }
    problems.merge(sizes);
    bool all = sizes.empty();
    for (std::size_t i = 0; i < points_.keys.size(); ++i) {
      if (drawn_.contains(points_.keys[i].text)) continue;
      all = false;
      const Node& from = *points_.items[i].find("from");
      std::vector<std::string> names;
      for (const Key& key : points_.keys) names.push_back(key.text);
      if (points_.find(from.text) == nullptr)
        problems.add(from, "no point is named " + describe(from) + "; the template has " + join(names) +
                               suggestion(from.text, names));
      else if (!waits_for_unknown(from.text))
        problems.add(from, describe(from) + " was given, but it is itself placed from " + points_.keys[i].text +
                               " or from another point of a circle; place one of them by x and y");
    }
    return all;
  }

  Node points() const {
    Node out = map_node(points_.mark);
    for (std::size_t i = 0; i < points_.keys.size(); ++i) {
      const auto& [x, y] = drawn_.at(points_.keys[i].text);
      Node pair;
      pair.kind = Node::Kind::list;
      pair.mark = points_.items[i].mark;
      pair.items = {number_node(x, pair.mark), number_node(y, pair.mark)};
      put(out, points_.keys[i].text, points_.keys[i].mark, std::move(pair));
    }
    return out;
  }

  const Node& vary() const { return vary_; }

 private:
  bool place_one(std::size_t i, Problems& problems) {
    const std::string& name = points_.keys[i].text;
    const Node& given = points_.items[i];
    if (drawn_.contains(name)) return false;
    const bool polar = given.find("from") != nullptr;
    if (polar && !drawn_.contains(given.find("from")->text)) return false;
    const std::array<std::string, 2> keys =
        polar ? std::array<std::string, 2>{"length", "angle"} : std::array<std::string, 2>{"x", "y"};
    Node entry = map_node(given.mark);
    if (polar) put(entry, "from", given.find("from")->mark, *given.find("from"));
    std::array<double, 2> at{};
    bool varies = polar;  // such a point follows the one that it is placed from
    for (std::size_t k = 0; k < 2; ++k) {
      const Node& value = *given.find(keys[k]);
      Length length = length_of(value, scale_, keys[k] == "length", problems);
      if (polar && value.text == "shock") length.node = value;
      at[k] = length.drawn;
      varies = varies || length.varies;
      put(entry, keys[k], value.mark, std::move(length.node));
    }
    if (polar) {
      const auto& [x, y] = drawn_.at(given.find("from")->text);
      const double angle = at[1] * std::numbers::pi / 180.0;
      at = {x + at[0] * std::cos(angle), y + at[0] * std::sin(angle)};
    }
    drawn_[name] = {at[0], at[1]};
    if (problems.empty() && !(std::max(std::abs(at[0]), std::abs(at[1])) <= farthest))
      problems.add(given, "the point comes to lie at " + rounded_text(at[0]) + ", " + rounded_text(at[1]) +
                              " on this bike; allowed: up to " + rounded_text(farthest) + " from the bottom bracket");
    if (varies) put(vary_, name, points_.keys[i].mark, std::move(entry));
    return true;
  }

  /// Whether a point cannot be placed because of another slip, which is told of at its own place.
  bool waits_for_unknown(const std::string& name) const {
    std::set<std::string> seen;
    for (std::string at = name; seen.insert(at).second;) {
      const Node* point = points_.find(at);
      if (point == nullptr) return true;
      const Node* from = point->find("from");
      if (from == nullptr) return false;
      at = from->text;
    }
    return false;
  }

  const Node& points_;
  const Scale& scale_;
  std::map<std::string, std::pair<double, double>> drawn_;
  Node vary_ = map_node({});
};

bool has_idler(const Template& one) {
  return one.tree.find("idler") != nullptr;
}

std::set<std::string> points_of(const Template& one) {
  std::set<std::string> names;
  if (const Node* points = one.tree.find("points"))
    for (const Key& key : points->keys) names.insert(key.text);
  return names;
}

}  // namespace

std::optional<Node> expand(const Node& brief, const Template& one, const Scale& scale,
                           const std::vector<Template>& known, Problems& problems) {
  Placer placer(*one.tree.find("points"), scale);
  if (!placer.place(problems)) return std::nullopt;

  Node root = brief;
  for (const char* key : {"linkages", "templates", "travel", "chainstay"}) drop(root, std::string_view(key));

  const Mark mark = one.tree.mark;
  Node linkage = map_node(mark);
  put(linkage, "points", one.tree.find("points")->mark, placer.points());
  for (const char* key : {"members", "sliders", "through_line", "axle", "brake"})
    if (const Node* value = one.tree.find(key)) put(linkage, key, value->mark, *value);
  put(root, "linkage", mark, std::move(linkage));

  Node shock = *one.tree.find("shock");
  put(shock, "length", shock.mark, number_node(scale.shock, shock.mark));
  put(shock, "stroke", shock.mark, number_node(scale.stroke, shock.mark));
  put(root, "shock", one.tree.find("shock")->mark, std::move(shock));
  Node vary = placer.vary();
  const Mark points = one.tree.find("points")->mark;
  vary.mark = points;
  put(root, "vary", points, std::move(vary));

  if (Node* train = root.find("drivetrain");
      train != nullptr && train->kind == Node::Kind::map && has_idler(one) && train->find("idler") == nullptr)
    put(*train, "idler", one.tree.find("idler")->mark, *one.tree.find("idler"));
  if (Node* choose = root.find("choose");
      choose != nullptr && !has_idler(one) && std::any_of(known.begin(), known.end(), has_idler))
    drop(*choose, std::string_view("idler"));

  sift(root, [own = points_of(one)](const std::string& name, Mark, const std::string&) { return own.contains(name); });
  return root;
}

void report_unknown_points(const Node& brief, const std::vector<Template>& known, Problems& problems) {
  std::set<std::string> all;
  for (const Template& one : known) all.merge(points_of(one));
  const std::vector<std::string> names(all.begin(), all.end());
  Node copy = brief;
  sift(copy, [&](const std::string& name, Mark mark, const std::string& where) {
    if (!all.contains(name))
      problems.add(mark, where,
                   "no point of any linkage is named " + printable(name) + "; they have " + join(names) +
                       suggestion(name, names));
    return true;
  });
}

}  // namespace trammel::brief
