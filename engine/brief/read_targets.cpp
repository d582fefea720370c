#include <algorithm>

#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

using objectives::Station;
using objectives::Wish;

Station read_station(const Node* node, Station fallback) {
  if (node == nullptr) return fallback;
  if (const auto travel = number(node, "travel")) return {Station::Kind::travel, *travel};
  if (const auto fraction = number(node, "fraction")) return {Station::Kind::fraction, *fraction};
  if (node->text == "topped_out") return {Station::Kind::topped_out, 0.0};
  if (node->text == "bottomed") return {Station::Kind::bottomed, 0.0};
  return {Station::Kind::sag, 0.0};
}

std::string in_words(const Station& station) {
  switch (station.kind) {
    case Station::Kind::topped_out:
      return "topped out";
    case Station::Kind::sag:
      return "sag";
    case Station::Kind::bottomed:
      return "bottomed";
    case Station::Kind::travel:
      return exact_text(station.amount) + " mm";
    case Station::Kind::fraction:
      break;
  }
  return exact_text(station.amount) + " of travel";
}

Wish read_wish(const Node& node) {
  if (const auto band = two_numbers(sound(&node, "band"))) return {Wish::Kind::band, band->first, band->second, {}};
  if (const auto hi = number(&node, "ceiling")) return {Wish::Kind::ceiling, *hi, *hi, {}};
  if (const auto lo = number(&node, "floor")) return {Wish::Kind::floor, *lo, *lo, {}};
  if (const auto value = number(&node, "value")) return {Wish::Kind::value, *value, *value, {}};
  Wish wish{Wish::Kind::follow, 0.0, 0.0, {}};
  if (const Node* path = sound(&node, "follow")) {
    for (const auto& step : path->items) {
      if (const auto pair = two_numbers(&step)) wish.path.push_back(*pair);
    }
  }
  return wish;
}

/// What the file lacks for a curve; empty when it gives everything. Asks for keys, not for their values, so that a
/// value with a problem of its own is not reported again here.
std::string lacking(bike::Needs needs, const Node& root) {
  const auto given = [&](std::initializer_list<std::string_view> path) {
    const Node* node = &root;
    for (const auto key : path) node = node == nullptr ? nullptr : node->find(key);
    return node != nullptr;
  };
  switch (needs) {
    case bike::Needs::nothing:
      return "";
    case bike::Needs::shock:
      return given({"shock"}) ? "" : "a shock, and the layout is driven without one";
    case bike::Needs::spring:
      return given({"shock", "spring"}) ? "" : "shock.spring, and the layout has none";
    case bike::Needs::gear:
      return given({"drivetrain"}) ? "" : "a drivetrain, and the layout has none";
    case bike::Needs::seat_angle:
      return given({"bike", "seat_angle"}) ? "" : "bike.seat_angle, and the layout has none";
    case bike::Needs::head_tube:
      break;
  }
  return given({"bike", "front", "reach"}) ? "" : "the head tube, and bike.front has no reach and stack";
}

class TargetReader {
 public:
  TargetReader(const Node& root, Brief& brief, Problems& problems)
      : root_(root), brief_(brief), layout_(brief.layout), problems_(problems) {}

  void read(const Node& node) {
    objectives::Target target;
    target.wish = read_wish(node);
    take_number(&node, "weight", target.weight);
    take_flag(&node, "must", target.must);
    if (sound(&node, "measure") != nullptr) {
      read_measure(node, target);
    } else {
      read_curve(node, target);
    }
    take_number(&node, "tolerance", target.tolerance);
    target.in = find_case(sound(&node, "in"), layout_, problems_);
    name(node, target);
    brief_.targets.push_back(std::move(target));
  }

  /// To be called last: a made name must not take the place of one that the brief gives further down.
  void name_the_rest() {
    for (auto& target : brief_.targets) {
      if (!target.name.empty()) continue;
      const std::string base = made_name(target);
      std::string wanted = base;
      for (int count = 2; is_taken(wanted); ++count) wanted = base + " (" + std::to_string(count) + ")";
      target.name = wanted;
    }
  }

 private:
  void read_measure(const Node& node, objectives::Target& target) {
    target.measure = objectives::Measure::progressivity;
    target.tolerance = progressivity_tolerance;
    target.at = read_station(sound(&node, "from"), {Station::Kind::topped_out, 0.0});
    target.to = read_station(sound(&node, "to"), {Station::Kind::bottomed, 0.0});
    if (target.at.kind == target.to.kind && target.at.amount == target.to.amount) {
      problems_.add(node, "from and to are both " + in_words(target.at) + "; a measure needs two places");
    }
    if (const std::string lack = lacking(bike::Needs::shock, root_); !lack.empty()) {
      problems_.add(*node.find("measure"), "progressivity needs " + lack);
    }
  }

  void read_curve(const Node& node, objectives::Target& target) {
    const Node* curve = sound(&node, "curve");
    const auto* record = curve == nullptr ? nullptr : bike::find_curve(curve->text);
    if (record == nullptr) return;
    target.curve.curve = record->curve;
    target.tolerance = record->tolerance;
    if (const std::string lack = lacking(record->needs, root_); !lack.empty()) {
      problems_.add(*curve, std::string(record->key) + " needs " + lack);
    } else if (record->needs == bike::Needs::gear) {
      target.curve.gear = find_gear(root_, sound(&node, "gear"), layout_, problems_);
    }
    if (node.find("at") != nullptr) {
      target.at = read_station(sound(&node, "at"), {});
      check_travel(*node.find("at"), target.at);
      return;
    }
    const auto over = two_numbers(sound(&node, "over"));
    target.over = over ? objectives::Stretch{over->first, over->second} : objectives::Stretch{};
    if (const Node* follow = sound(&node, "follow")) check_path(*follow, target.wish.path, *target.over);
  }

  /// Only a linkage driven by travel says how much travel there is before it has been moved.
  void check_travel(const Node& node, const Station& station) {
    const auto& drive = layout_.mechanism.drive;
    if (drive.kind != linkage::DriveKind::travel || station.kind != Station::Kind::travel) return;
    if (station.amount <= drive.range) return;
    problems_.add(
        node, rounded_text(station.amount) + " mm was given, but the travel is " + rounded_text(drive.range) + " mm");
  }

  void check_path(const Node& follow, const std::vector<std::pair<double, double>>& path,
                  const objectives::Stretch& over) {
    if (path.size() != follow.items.size()) return;
    for (std::size_t i = 1; i < path.size(); ++i) {
      if (path[i].first > path[i - 1].first) continue;
      problems_.add(follow.items[i], "fraction " + exact_text(path[i].first) +
                                         " was given, but it must be above the "
                                         "one before it, " +
                                         exact_text(path[i - 1].first));
      return;
    }
    if (path.front().first <= over.from && path.back().first >= over.to) return;
    problems_.add(follow, "the path runs from " + exact_text(path.front().first) + " to " +
                              exact_text(path.back().first) + ", but it must cover the stretch from " +
                              exact_text(over.from) + " to " + exact_text(over.to));
  }

  std::string made_name(const objectives::Target& target) const {
    if (target.measure) return "progressivity, " + in_words(target.at) + " to " + in_words(target.to);
    std::string text(bike::record(target.curve.curve).key);
    if (target.curve.gear >= 0) {
      text += " " + layout_.drivetrain.gears[static_cast<std::size_t>(target.curve.gear)].name();
    }
    if (!target.over) return text + " at " + in_words(target.at);
    return text + " over " + exact_text(target.over->from) + " to " + exact_text(target.over->to);
  }

  bool is_taken(const std::string& wanted) const {
    return std::any_of(brief_.targets.begin(), brief_.targets.end(),
                       [&](const objectives::Target& target) { return target.name == wanted; });
  }

  void name(const Node& node, objectives::Target& target) {
    target.name = word(&node, "name");
    if (!target.name.empty() && is_taken(target.name)) {
      problems_.add(*node.find("name"), describe(*node.find("name")) + " was given, but another target has that name");
    }
  }

  const Node& root_;
  Brief& brief_;
  const bike::Layout& layout_;
  Problems& problems_;
};

}  // namespace

void read_targets(const Node& root, Brief& brief, Problems& problems) {
  const Node* targets = sound(&root, "targets");
  if (targets == nullptr) return;
  TargetReader reader(root, brief, problems);
  for (const auto& node : targets->items) {
    if (!node.flawed) reader.read(node);
  }
  reader.name_the_rest();
}

}  // namespace trammel::brief
