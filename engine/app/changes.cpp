#include "app/changes.hpp"

#include <algorithm>
#include <set>

#include "app/origin.hpp"
#include "app/verbs.hpp"
#include "bike/reading.hpp"
#include "brief/notes.hpp"
#include "objectives/transfer.hpp"
#include "report/digits.hpp"
#include "report/wording.hpp"
#include "search/drawn.hpp"
#include "search/references.hpp"

namespace trammel::app {
namespace {

using objectives::Target;

std::string first_key(const std::string& path) {
  return path.substr(0, path.find_first_of(".["));
}

/// Keys of a file's top.
std::set<std::string> groups_of(const std::string& text) {
  std::set<std::string> out;
  for (const brief::Difference& d : brief::differences("{}", text))
    if (!d.notes) out.insert(first_key(d.path));
  return out;
}

/// What the files say differently, apart from titles, notes and points, which are told apart by themselves.
void compare_text(const brief::Brief& a, const brief::Brief& b, Changes& out) {
  const std::set<std::string> in_a = groups_of(a.text), in_b = groups_of(b.text);
  std::set_difference(in_a.begin(), in_a.end(), in_b.begin(), in_b.end(), std::back_inserter(out.only_a));
  std::set_difference(in_b.begin(), in_b.end(), in_a.begin(), in_a.end(), std::back_inserter(out.only_b));
  for (const brief::Difference& d : brief::differences(a.text, b.text)) {
    const std::string key = first_key(d.path);
    const bool apart = d.notes || d.path == "title" || d.path.starts_with("linkage.points.");
    if (!apart && in_a.contains(key) && in_b.contains(key)) out.written.push_back(d);
  }
}

void compare_points(const linkage::Mechanism& a, const linkage::Mechanism& b, Changes& out) {
  const auto find = [](const linkage::Mechanism& in, const std::string& name) -> std::optional<bike::Point> {
    const auto found = std::find(in.point_names.begin(), in.point_names.end(), name);
    if (found == in.point_names.end()) return std::nullopt;
    return in.points[static_cast<std::size_t>(found - in.point_names.begin())];
  };
  for (const std::string& name : a.point_names) out.points.push_back({name, find(a, name), find(b, name)});
  for (const std::string& name : b.point_names)
    if (!find(a, name)) out.points.push_back({name, std::nullopt, find(b, name)});
}

/// One side of the comparison: its layout, and each target of either as it can be judged by it.
struct Side {
  bike::Layout layout;
  std::vector<std::optional<Target>> targets;
  search::Drawn drawn;

  std::optional<objectives::Verdict> verdict(std::size_t target) const {
    if (!targets[target] || !drawn.moves()) return std::nullopt;
    std::size_t place = 0;
    for (std::size_t t = 0; t < target; ++t) place += targets[t] ? 1 : 0;
    return drawn.judged->targets[place];
  }
  /// Why it does not move, of each case that does not.
  std::string failure() const {
    std::string out;
    for (const search::DrawnCase& one : drawn.cases)
      if (one.failure) out += (out.empty() ? "" : "; ") + *one.failure;
    return out;
  }
};

std::vector<Target> wishes_of(const Origin& origin) {
  std::vector<Target> out;
  if (!origin.of) return out;
  for (const Target& target : origin.of->targets)
    if (target.origin == objectives::Origin::brief) out.push_back(target);
  return out;
}

const Target* named(const std::vector<Target>& targets, const std::string& name) {
  const auto found = std::find_if(targets.begin(), targets.end(), [&](const Target& t) { return t.name == name; });
  return found == targets.end() ? nullptr : &*found;
}

/// Each of `names` as the side's own brief wishes it, else as the other's does.
Side side_of(const Origin& own, const Origin& other, const std::vector<std::string>& names) {
  const std::vector<Target> mine = wishes_of(own), theirs = wishes_of(other);
  Side side;
  side.layout = own.file.layout;
  std::vector<Target> judged;
  for (const std::string& name : names) {
    const Target* asked = named(mine, name);
    const bike::Layout& of = asked != nullptr ? own.of->layout : other.of->layout;
    if (asked == nullptr) asked = named(theirs, name);
    side.targets.push_back(objectives::target_for(*asked, of, side.layout));
    if (side.targets.back()) judged.push_back(*side.targets.back());
  }
  side.drawn = search::judge_drawn(side.layout, judged, {});
  return side;
}

std::vector<std::string> names_of(const Origin& a, const Origin& b) {
  std::vector<std::string> names;
  for (const Origin* origin : {&a, &b})
    for (const Target& target : wishes_of(*origin))
      if (std::find(names.begin(), names.end(), target.name) == names.end()) names.push_back(target.name);
  return names;
}

void compare_targets(const Side& a, const Side& b, const std::vector<std::string>& names, Changes& out) {
  for (std::size_t t = 0; t < names.size(); ++t)
    if (a.targets[t] || b.targets[t])
      out.targets.push_back({names[t], a.targets[t], b.targets[t], a.verdict(t), b.verdict(t)});
}

/// Curves that are put side by side, as far as both layouts have them.
constexpr bike::Curve compared[] = {bike::Curve::leverage,     bike::Curve::anti_squat, bike::Curve::anti_rise,
                                    bike::Curve::chain_growth, bike::Curve::kickback,   bike::Curve::rearward,
                                    bike::Curve::chainstay,    bike::Curve::wheelbase,  bike::Curve::bb_height,
                                    bike::Curve::wheel_rate,   bike::Curve::wheel_force};

struct Place {
  std::string name;
  double in_a, in_b;  ///< wheel travel, mm
};

/// A curve's key in the other layout, whose gears may stand in another order.
std::optional<bike::CurveKey> counterpart(bike::CurveKey key, const bike::Layout& a, const bike::Layout& b) {
  if (key.gear < 0) return key;
  const std::string name = a.drivetrain.gears[static_cast<std::size_t>(key.gear)].name();
  for (std::size_t g = 0; g < b.drivetrain.gears.size(); ++g)
    if (b.drivetrain.gears[g].name() == name) {
      key.gear = static_cast<int>(g);
      return key;
    }
  return std::nullopt;
}

void compare_curves(const bike::Layout& a, const bike::Layout& b, const std::vector<double>& travels, Changes& out) {
  const bike::CurveTable in_a = bike::trace(a, 41, false).table, in_b = bike::trace(b, 41, false).table;
  const double whole_a = bike::whole_travel(in_a), whole_b = bike::whole_travel(in_b);
  std::vector<Place> places{
      {"topped out", 0.0, 0.0}, {"at sag", bike::sag_travel(a), bike::sag_travel(b)}, {"bottomed", whole_a, whole_b}};
  for (const double travel : travels)
    places.insert(places.end() - 1, {"at " + report::shown(travel, 1) + " mm", travel, travel});
  out.curves.push_back({"travel",
                        "Wheel travel",
                        "mm",
                        "",
                        1,
                        {{"at sag", places[1].in_a, places[1].in_b}, {"bottomed", whole_a, whole_b}}});
  for (const bike::Curve curve : compared)
    for (const bike::CurveKey key : bike::keys_of(in_a, curve)) {
      const auto other = counterpart(key, a, b);
      if (!other) continue;
      const bike::CurveRecord& record = bike::record(curve);
      Changes::Curve one{std::string(record.key),
                         report::curve_title(key, a),
                         std::string(record.unit),
                         "",
                         report::decimals_for(record.tolerance),
                         {}};
      if (key.gear >= 0) one.gear = a.drivetrain.gears[static_cast<std::size_t>(key.gear)].name();
      for (const Place& place : places) {
        const auto was = bike::value_at(in_a, key, place.in_a), is = bike::value_at(in_b, *other, place.in_b);
        if (was || is) one.values.push_back({place.name, was, is});
      }
      out.curves.push_back(std::move(one));
    }
}

/// What is said of a file itself. The notes of targets are those of the brief that the layout is of.
Changes::File told_of(const std::filesystem::path& path, const Origin& origin) {
  Changes::File out{path, origin.file.layout.title, brief::notes_of(origin.file).layout, {}, origin.remark, ""};
  if (!origin.of) return out;
  const brief::Notes notes = brief::notes_of(*origin.of);
  for (std::size_t t = 0; t < origin.of->targets.size(); ++t)
    if (const std::string own = notes.of_target(t); !own.empty()) out.noted[origin.of->targets[t].name] = own;
  return out;
}

std::vector<Origin> read_both(const std::filesystem::path& a, const std::filesystem::path& b) {
  std::vector<brief::Problem> problems;
  std::vector<Origin> out;
  for (const auto& file : {a, b}) {
    try {
      out.push_back(read_with_origin(file));
    } catch (const BadInput& e) {
      problems.insert(problems.end(), e.problems.begin(), e.problems.end());
    }
  }
  if (!problems.empty()) throw BadInput(problems);
  return out;
}

}  // namespace

Changes changes_between(const std::filesystem::path& path_a, const std::filesystem::path& path_b,
                        const std::vector<double>& travels) {
  const std::vector<Origin> sides = read_both(path_a, path_b);
  const Origin &a = sides[0], &b = sides[1];
  Changes out;
  out.a = told_of(path_a, a);
  out.b = told_of(path_b, b);
  compare_text(a.file, b.file, out);
  out.drawn = a.file.linkages.empty() && b.file.linkages.empty();
  if (!out.drawn) return out;
  compare_points(a.file.layout.mechanism, b.file.layout.mechanism, out);
  const std::vector<std::string> names = names_of(a, b);
  const Side of_a = side_of(a, b, names), of_b = side_of(b, a, names);
  out.a.failure = of_a.failure();
  out.b.failure = of_b.failure();
  compare_targets(of_a, of_b, names, out);
  if (!of_a.drawn.moves() || !of_b.drawn.moves()) return out;
  try {
    compare_curves(a.file.layout, b.file.layout, travels, out);
  } catch (const bike::MotionFailure& failure) {  // as drawn, though its settings move
    out.no_curves = failure.text;
  }
  return out;
}

}  // namespace trammel::app
