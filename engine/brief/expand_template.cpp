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
      report_unplaced(i, problems);
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
  using Place = std::pair<double, double>;

  /// Why a point could not be placed: another that it names is unknown, or itself waits for this one.
  void report_unplaced(std::size_t i, Problems& problems) const {
    std::vector<std::string> names;
    for (const Key& key : points_.keys) names.push_back(key.text);
    const std::vector<const Node*> others = others_of(points_.items[i]);
    const auto unknown = [&](const Node* other) { return points_.find(other->text) == nullptr; };
    const auto waits = [&](const Node* other) { return !drawn_.contains(other->text); };
    if (const auto found = std::find_if(others.begin(), others.end(), unknown); found != others.end())
      problems.add(**found, "no point is named " + describe(**found) + "; the template has " + join(names) +
                                suggestion((*found)->text, names));
    else if (const Node& other = **std::find_if(others.begin(), others.end(), waits); !waits_for_unknown(other.text))
      problems.add(other, describe(other) + " was given, but it is itself placed from " + points_.keys[i].text +
                              " or from another point of a circle; place one of them by x and y");
  }

  /// The values of a point's entry that name other points.
  static std::vector<const Node*> others_of(const Node& given) {
    std::vector<const Node*> out;
    for (const char* key : {"from", "mirrors", "about"})
      if (const Node* name = given.find(key)) out.push_back(name);
    for (const char* key : {"as_long_as", "across"})
      if (const Node* pair = given.find(key))
        for (const Node& name : pair->items) out.push_back(&name);
    return out;
  }
  const Place& drawn(const Node& name) const { return drawn_.at(name.text); }

  bool place_one(std::size_t i, Problems& problems) {
    const std::string& name = points_.keys[i].text;
    const Node& given = points_.items[i];
    const std::vector<const Node*> others = others_of(given);
    const auto waits = [&](const Node* other) { return !drawn_.contains(other->text); };
    if (drawn_.contains(name) || std::any_of(others.begin(), others.end(), waits)) return false;
    Node entry = map_node(given.mark);
    bool varies = !others.empty();  // such a point follows the one that it is placed from
    const Place at = given.find("mirrors") != nullptr ? mirrored(given, entry)
                     : given.find("angle") != nullptr ? polar(given, entry, problems)
                                                      : cartesian(given, entry, varies, problems);
    drawn_[name] = at;
    if (problems.empty() && !(std::max(std::abs(at.first), std::abs(at.second)) <= farthest))
      problems.add(given, "the point comes to lie at " + rounded_text(at.first) + ", " + rounded_text(at.second) +
                              " on this bike; allowed: up to " + rounded_text(farthest) + " from the bottom bracket");
    if (varies) put(vary_, name, points_.keys[i].mark, std::move(entry));
    return true;
  }

  static void take(const Node& given, const char* key, Node& entry) {
    const Node* value = given.find(key);
    if (value != nullptr) put(entry, key, value->mark, *value);
  }

  /// A number of the entry on the bike.
  Length number_on_bike(const Node& given, const char* key, Node& entry, Problems& problems) {
    const Node& value = *given.find(key);
    Length length = length_of(value, scale_, std::string_view(key) == "length", problems);
    if (value.text == "shock") length.node = value;
    put(entry, key, value.mark, length.node);
    return length;
  }

  Place cartesian(const Node& given, Node& entry, bool& varies, Problems& problems) {
    take(given, "from", entry);
    const Length x = number_on_bike(given, "x", entry, problems), y = number_on_bike(given, "y", entry, problems);
    varies = varies || x.varies || y.varies;
    const Node* from = given.find("from");
    return from == nullptr ? Place{x.drawn, y.drawn}
                           : Place{drawn(*from).first + x.drawn, drawn(*from).second + y.drawn};
  }

  Place polar(const Node& given, Node& entry, Problems& problems) {
    take(given, "from", entry);
    double length = 0.0;
    if (const Node* pair = given.find("as_long_as")) {
      take(given, "as_long_as", entry);
      const Place &a = drawn(pair->items[0]), &b = drawn(pair->items[1]);
      length = std::hypot(b.first - a.first, b.second - a.second);
    } else {
      length = number_on_bike(given, "length", entry, problems).drawn;
    }
    const double angle = number_on_bike(given, "angle", entry, problems).drawn * std::numbers::pi / 180.0;
    const auto& [x, y] = drawn(*given.find("from"));
    return {x + length * std::cos(angle), y + length * std::sin(angle)};
  }

  Place mirrored(const Node& given, Node& entry) const {
    for (const char* key : {"mirrors", "about", "across"}) take(given, key, entry);
    const Place& of = drawn(*given.find("mirrors"));
    if (const Node* about = given.find("about"))
      return {2.0 * drawn(*about).first - of.first, 2.0 * drawn(*about).second - of.second};
    const Node& line = *given.find("across");
    const Place &a = drawn(line.items[0]), &b = drawn(line.items[1]);
    const double ux = b.first - a.first, uy = b.second - a.second;
    const double part = ((of.first - a.first) * ux + (of.second - a.second) * uy) / std::max(ux * ux + uy * uy, 1e-12);
    return {2.0 * (a.first + part * ux) - of.first, 2.0 * (a.second + part * uy) - of.second};
  }

  /// Whether a point cannot be placed because of another slip, which is told of at its own place.
  bool waits_for_unknown(const std::string& name) const {
    std::set<std::string> seen;
    std::vector<std::string> left{name};
    while (!left.empty()) {
      const std::string at = std::move(left.back());
      left.pop_back();
      if (!seen.insert(at).second) continue;
      const Node* point = points_.find(at);
      if (point == nullptr) return true;
      for (const Node* other : others_of(*point)) left.push_back(other->text);
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

/// Adds a template's bodies and clearances to those of the brief, whose bodies come first where names are the same.
void add_packaging(const Node& own, Node& root) {
  if (root.find("packaging") == nullptr) put(root, "packaging", own.mark, map_node(own.mark));
  Node& all = *root.find("packaging");
  for (std::size_t i = 0; i < own.keys.size(); ++i) {
    Node* there = all.find(own.keys[i].text);
    if (there == nullptr) {
      put(all, own.keys[i].text, own.keys[i].mark, own.items[i]);
      continue;
    }
    for (std::size_t k = 0; k < own.items[i].items.size(); ++k) {
      if (there->kind == Node::Kind::map && there->find(own.items[i].keys[k].text) != nullptr) continue;
      if (there->kind == Node::Kind::map) there->keys.push_back(own.items[i].keys[k]);
      there->items.push_back(own.items[i].items[k]);
    }
  }
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
  for (const char* key : {"linkages", "templates", "travel", "chainstay", "spring"}) drop(root, std::string_view(key));

  const Mark mark = one.tree.mark;
  Node linkage = map_node(mark);
  put(linkage, "points", one.tree.find("points")->mark, placer.points());
  for (const char* key : {"members", "sliders", "through_line", "axle", "brake"})
    if (const Node* value = one.tree.find(key)) put(linkage, key, value->mark, *value);
  put(root, "linkage", mark, std::move(linkage));

  Node shock = *one.tree.find("shock");
  put(shock, "length", shock.mark, number_node(scale.shock, shock.mark));
  put(shock, "stroke", shock.mark, number_node(scale.stroke, shock.mark));
  if (const Node* spring = brief.find("spring")) put(shock, "spring", spring->mark, *spring);
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
  // After that: what a template says of its own points is not left out but refused where they are not its own.
  if (const Node* packaging = one.tree.find("packaging")) add_packaging(*packaging, root);
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
