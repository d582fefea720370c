#include <algorithm>
#include <cmath>

#include "brief/fields.hpp"
#include "brief/parts.hpp"
#include "brief/read_between.hpp"
#include "brief/read_relative.hpp"
#include "brief/readings.hpp"
#include "brief/values.hpp"

namespace trammel::brief {
namespace {

using objectives::Station;
using objectives::Wish;

/// Most points of a path from a file.
constexpr std::size_t most_points = 400;

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

class TargetReader {
 public:
  TargetReader(const Node& root, Brief& brief, Problems& problems)
      : root_(root), brief_(brief), layout_(brief.layout), problems_(problems) {}

  /// `number` is its place in the list.
  void read(const Node& node, std::size_t number) {
    number_ = number;
    objectives::Target target;
    target.wish = read_wish(node);
    take_number(&node, "weight", target.weight);
    take_flag(&node, "must", target.must);
    if (!read_curve(node, target)) return;
    if (target.measure) {
      read_places_of_measure(node, target);
    } else {
      read_places(node, target);
    }
    take_number(&node, "tolerance", target.tolerance);
    read_relative(node, brief_, target, problems_);
    if (target.measure && node.find("between") == nullptr && !target.relative) check_share(node, target);
    target.in = find_case(sound(&node, "in"), layout_, problems_);
    read_between(node, layout_, target, problems_);
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
  /// What is looked at: the measure, the curve and its gears. False when it cannot be known.
  bool read_curve(const Node& node, objectives::Target& target) {
    const Node* named = sound(&node, "measure");
    const auto* measure = named == nullptr ? nullptr : objectives::find_measure(named->text);
    if (measure == nullptr && node.find("measure") != nullptr) return false;
    const Node* curve = sound(&node, "curve");
    if (curve == nullptr && (measure == nullptr || !measure->curve)) return false;
    const auto* record = curve == nullptr ? &bike::record(*measure->curve) : bike::find_curve(curve->text);
    if (record == nullptr) return false;
    if (measure != nullptr) target.measure = measure->measure;
    target.curve.curve = record->curve;
    target.tolerance =
        measure == nullptr ? record->tolerance : objectives::default_tolerance(measure->measure, record->curve);
    if (const std::string lack = lacking(record->needs, root_); !lack.empty()) {
      problems_.add(curve == nullptr ? *named : *curve,
                    std::string(curve == nullptr ? measure->key : record->key) + " needs " + lack);
    } else if (record->needs == bike::Needs::gear) {
      read_gears(node, target);
    } else if (record->needs == bike::Needs::point) {
      target.curve.a = find_point(sound(&node, "point"), layout_.mechanism, problems_);
    } else if (record->needs == bike::Needs::points) {
      if (const Node* pair = sound(&node, "points"); pair != nullptr && pair->items.size() == 2) {
        target.curve.a = find_point(&pair->items[0], layout_.mechanism, problems_);
        target.curve.b = find_point(&pair->items[1], layout_.mechanism, problems_);
      }
    } else if (record->needs == bike::Needs::pivot) {
      target.curve.a = find_pivot(sound(&node, "pivot"), layout_.mechanism, problems_);
      target.curve.load = find_load(root_, sound(&node, "load"), layout_, problems_);
    } else if (bike::about_rider(record->needs)) {
      take_number(&node, "rider", target.curve.rider);
      if (record->needs == bike::Needs::landing) read_spacers(node, target);
    }
    return true;
  }

  /// With how many spacers set-up is looked at: as many as there may be, unless the target says.
  void read_spacers(const Node& node, objectives::Target& target) {
    const Node* given = sound(&node, "spacers");
    const auto* air =
        layout_.shock && layout_.shock->spring ? std::get_if<spring::Air>(&layout_.shock->spring->kind) : nullptr;
    const bool counts = target.measure == objectives::Measure::set_up_spacers;
    if (air == nullptr) {
      if (given != nullptr) problems_.add(*given, "spacers go into an air spring, and the spring is another");
      if (counts)
        problems_.add(*node.find("measure"),
                      node.find("measure")->text + " needs shock.spring.air, and the spring is another");
      return;
    }
    const int most = std::max(layout_.set_up.most_spacers, air->spacers);
    target.curve.spacers = static_cast<int>(number(&node, "spacers").value_or(most));
    if (given != nullptr && target.curve.spacers > most)
      problems_.add(*given, given->text + " was given, but the spring takes " + std::to_string(most) +
                                "; set_up.most_spacers says how many fit");
    if (counts && (layout_.set_up.most_spacers < 1 || air->spacer <= 0.0))
      problems_.add(*node.find("measure"), node.find("measure")->text +
                                               " needs set_up.most_spacers and shock.spring.air.spacer, what there is "
                                               "to choose from");
  }

  void read_gears(const Node& node, objectives::Target& target) {
    const Node* several = sound(&node, "gears");
    if (several == nullptr) {
      target.curve.gear = find_gear(root_, sound(&node, "gear"), layout_, problems_);
      return;
    }
    if (several->kind == Node::Kind::list) {
      for (const Node& item : several->items)
        if (const int gear = find_gear(root_, &item, layout_, problems_); gear >= 0) target.gears.push_back(gear);
    } else {
      for (std::size_t g = 0; g < layout_.drivetrain.gears.size(); ++g) target.gears.push_back(static_cast<int>(g));
    }
    target.curve.gear = target.gears.empty() ? -1 : target.gears.front();
    const bool spread = target.measure == objectives::Measure::gear_spread;
    if (spread && several->kind != Node::Kind::list && target.gears.size() == 1)
      problems_.add(*several, "all was given, but the drivetrain has one gear; a spread needs two gears");
  }

  void read_places(const Node& node, objectives::Target& target) {
    if (node.find("at") != nullptr) {
      target.at = read_station(sound(&node, "at"), {});
      check_travel(*node.find("at"), target.at);
      return;
    }
    target.over = stretch(node);
    if (const Node* follow = sound(&node, "follow")) {
      if (target.wish.path.size() == follow->items.size()) check_path(*follow, target.wish.path, *target.over);
    } else if (const Node* file = sound(&node, "follow_file")) {
      read_follow_file(*file, target);
    }
  }

  void read_places_of_measure(const Node& node, objectives::Target& target) {
    using objectives::Measure;
    switch (record(*target.measure).where) {
      case objectives::Where::between:
        target.at = read_station(sound(&node, "from"), {Station::Kind::topped_out, 0.0});
        target.to = read_station(sound(&node, "to"), {Station::Kind::bottomed, 0.0});
        if (target.at.kind == target.to.kind && target.at.amount == target.to.amount)
          problems_.add(node, "from and to are both " + in_words(target.at) + "; a measure needs two places");
        return;
      case objectives::Where::fixed: {
        const bool ramp = target.measure == Measure::bottom_out_ramp;
        target.at = ramp ? Station{Station::Kind::fraction, objectives::ramp_from} : Station{};
        target.to = ramp || record(*target.measure).curve == bike::Curve::set_up_bottom_force
                        ? Station{Station::Kind::bottomed, 0.0}
                        : Station{Station::Kind::fraction, objectives::mid_stroke};
        return;
      }
      case objectives::Where::any:
        return read_places(node, target);
      case objectives::Where::stretch:
        target.over = stretch(node);
        break;
      case objectives::Where::whole:
        target.over = objectives::Stretch{};
        break;
    }
    target.crosses = record(*target.measure).own_curve ? objectives::resting_support : 0.0;
    take_number(&node, "crosses", target.crosses);
    if (const Node* path = sound(&node, "path")) read_path(*path, target);
  }

  /// A wish for a share that no share can have, such as a percentage.
  void check_share(const Node& node, const objectives::Target& target) {
    const objectives::MeasureRecord& r = record(*target.measure);
    if (r.curve != target.curve.curve) return;
    for (const char* key : {"band", "floor", "ceiling", "value"}) {
      const Node* wish = sound(&node, key);
      if (wish == nullptr) continue;
      const auto band = two_numbers(wish);
      const double lo = band ? band->first : number(&node, key).value_or(0.0), hi = band ? band->second : lo;
      if (lo >= r.least && hi <= r.most) continue;
      const auto text = [&](double by) {
        return band ? "[" + rounded_text(lo / by) + ", " + rounded_text(hi / by) + "]" : rounded_text(lo / by);
      };
      const auto whole = [](double x) { return x == 0.0 || std::abs(x) >= 1.0; };
      const bool per_cent = whole(lo) && whole(hi) && lo / 100.0 >= r.least && hi / 100.0 <= r.most;
      problems_.add(*wish, text(1.0) + " was given, but " + std::string(r.key) + " is a share, from " +
                               rounded_text(r.least) + " to " + rounded_text(r.most) +
                               (per_cent ? "; for per cent write " + std::string(key) + ": " + text(100.0) : ""));
    }
  }

  static objectives::Stretch stretch(const Node& node) {
    const auto over = two_numbers(sound(&node, "over"));
    return over ? objectives::Stretch{over->first, over->second} : objectives::Stretch{};
  }

  /// Points of a wheel path, from low to high.
  void read_path(const Node& path, objectives::Target& target) {
    for (const Node& item : path.items) {
      const auto point = two_numbers(&item);
      if (!point) continue;
      if (!target.path.empty() && point->second <= target.path.back().second) {
        problems_.add(item, "y = " + exact_text(point->second) +
                                " was given, but it must be above the one before it, " +
                                exact_text(target.path.back().second));
        return;
      }
      target.path.push_back(*point);
    }
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
    for (std::size_t i = 1; i < path.size(); ++i) {
      if (path[i].first > path[i - 1].first) continue;
      problems_.add(follow.items.empty() ? follow : follow.items[i], "fraction " + exact_text(path[i].first) +
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

  /// A path from a file beside the brief: a column of fractions and one of the curve's values.
  void read_follow_file(const Node& file, objectives::Target& target) {
    const bike::CurveRecord& record = bike::record(target.curve.curve);
    std::vector<std::string> columns{std::string(record.key), std::string(record.column)};
    if (target.curve.gear >= 0)
      columns.push_back(std::string(record.column) + "[" +
                        layout_.drivetrain.gears[static_cast<std::size_t>(target.curve.gear)].name() + "]");
    const auto readings =
        read_csv(file, brief_, {"fraction of wheel travel and the curve's value", {"fraction"}, columns}, problems_);
    if (!readings) return;
    if (readings->size() < 2 || readings->size() > most_points) {
      problems_.add(file, describe(file) + " holds " + std::to_string(readings->size()) +
                              " points; a followed path has from 2 to " + std::to_string(most_points));
      return;
    }
    const auto outside = std::find_if(readings->begin(), readings->end(),
                                      [](const auto& point) { return point.first < 0.0 || point.first > 1.0; });
    if (outside != readings->end()) {
      problems_.add(file, "fraction " + exact_text(outside->first) + " was read from " + describe(file) +
                              "; allowed: from 0 to 1");
      return;
    }
    target.wish.path = *readings;
    check_path(file, target.wish.path, *target.over);
    const std::size_t number = number_;
    put_into_text(
        file, "follow_file", "follow", *readings,
        [number](const Node& root) {
          const Node* targets = root.find("targets");
          return targets == nullptr || targets->items.size() <= number ? nullptr
                                                                       : targets->items[number].find("follow");
        },
        brief_.text, problems_);
  }

  std::string made_name(const objectives::Target& target) const {
    if (!target.between) return made_name_of_value(target);
    const objectives::Between& b = *target.between;
    return made_name_of_value(target) + ", " +
           (!b.first.empty()
                ? b.first + " to " + b.second
                : "between " + std::string(b.of == objectives::Between::Of::settings ? settings_word : sizes_word));
  }
  static std::string made_name_of_rider(const objectives::Target& target) {
    std::string out;
    if (target.curve.of_rider()) out += " " + exact_text(target.curve.rider) + " kg";
    const bool counts = target.measure == objectives::Measure::set_up_spacers;
    if (target.curve.spacers >= 0 && !counts) out += " with " + std::to_string(target.curve.spacers) + " spacers";
    return out;
  }
  std::string made_name_of_value(const objectives::Target& target) const {
    std::string curve(bike::record(target.curve.curve).key);
    const auto add_gear = [&](int gear, const char* before) {
      curve += before + layout_.drivetrain.gears[static_cast<std::size_t>(gear)].name();
    };
    if (target.gears.empty() && target.curve.gear >= 0) add_gear(target.curve.gear, " ");
    for (const int point : {target.curve.a, target.curve.b})
      if (point >= 0) curve += " " + layout_.mechanism.point_names[static_cast<std::size_t>(point)];
    curve += made_name_of_rider(target);
    if (target.curve.load >= 0) curve += " " + layout_.loads.cases[static_cast<std::size_t>(target.curve.load)].name;
    for (const int gear : target.gears) add_gear(gear, gear == target.gears.front() ? " " : ", ");
    const auto stretch = [&] {
      return " over " + exact_text(target.over->from) + " to " + exact_text(target.over->to);
    };
    if (!target.measure) return curve + (target.over ? stretch() : " at " + in_words(target.at));
    const objectives::MeasureRecord& r = record(*target.measure);
    std::string text(r.key);
    if (r.own_curve) text += made_name_of_rider(target);
    if (!r.curve || *r.curve != target.curve.curve) text += " of " + curve;
    switch (r.where) {
      case objectives::Where::between:
        return text + ", " + in_words(target.at) + " to " + in_words(target.to);
      case objectives::Where::fixed:
        return text;
      case objectives::Where::whole:
        return r.own_curve ? text : text + " at " + exact_text(target.crosses);
      default:
        return text + (target.over ? stretch() : " at " + in_words(target.at));
    }
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
  std::size_t number_ = 0;
};

}  // namespace

void read_targets(const Node& root, Brief& brief, Problems& problems) {
  const Node* targets = sound(&root, "targets");
  if (targets == nullptr) return;
  TargetReader reader(root, brief, problems);
  for (std::size_t i = 0; i < targets->items.size(); ++i) {
    if (!targets->items[i].flawed) reader.read(targets->items[i], i);
  }
  reader.name_the_rest();
}

}  // namespace trammel::brief
