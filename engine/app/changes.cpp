#include "app/changes.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "app/origin.hpp"
#include "app/print.hpp"
#include "app/text.hpp"
#include "app/verbs.hpp"
#include "bike/reading.hpp"
#include "brief/meaning.hpp"
#include "objectives/transfer.hpp"
#include "report/digits.hpp"
#include "report/wording.hpp"
#include "search/drawn.hpp"
#include "search/references.hpp"

namespace trammel::app {
namespace {

using bike::Curve;
using objectives::Target;
using report::shown;
using Align = TextTable::Align;

/// With its sign; a plain 0 where nothing shows.
std::string difference(double by, int decimals) {
  const std::string text = shown(by, decimals);
  const bool none = text.find_first_not_of("-0.") == text.npos;
  return none ? "0" : (by > 0.0 ? "+" : "") + text;
}

std::string first_key(const std::string& path) {
  return path.substr(0, path.find_first_of(".["));
}

/// Keys of a file's top.
std::set<std::string> groups_of(const std::string& text) {
  std::set<std::string> out;
  for (const brief::Difference& d : brief::differences("{}", text)) out.insert(first_key(d.path));
  return out;
}

/// What the files say differently, apart from the titles above and the points, which have a table of their own.
void print_said(const brief::Brief& a, const brief::Brief& b) {
  const std::set<std::string> in_a = groups_of(a.text), in_b = groups_of(b.text);
  std::string only_a, only_b;
  for (const std::string& key : in_a)
    if (!in_b.contains(key)) only_a += (only_a.empty() ? "" : ", ") + key;
  for (const std::string& key : in_b)
    if (!in_a.contains(key)) only_b += (only_b.empty() ? "" : ", ") + key;
  TextTable table({Align::left, Align::left, Align::left});
  const auto value = [](const std::string& v) { return v.empty() ? std::string("left out") : v; };
  for (const brief::Difference& d : brief::differences(a.text, b.text)) {
    const std::string key = first_key(d.path);
    if (d.path == "title" || d.path.starts_with("linkage.points.") || !in_a.contains(key) || !in_b.contains(key))
      continue;
    if (table.empty()) table.add({"key", "A", "B"});
    table.add({d.path, value(d.before), value(d.after)});
  }
  if (table.empty() && only_a.empty() && only_b.empty()) {
    print_out("\nwritten: the same, title and points apart\n");
    return;
  }
  print_out("\nwritten differently:\n{}", table.text(2));
  if (!only_a.empty()) print_out("{}", folded("only A has: " + only_a, 2, 4));
  if (!only_b.empty()) print_out("{}", folded("only B has: " + only_b, 2, 4));
}

void print_points(const bike::Layout& a, const bike::Layout& b) {
  const auto &m = a.mechanism, &n = b.mechanism;
  TextTable table(
      {Align::left, Align::right, Align::right, Align::right, Align::right, Align::right, Align::right, Align::right});
  table.add({"point", "A: x", "y", "B: x", "y", "difference: x", "y", "moved"});
  std::size_t same = 0;
  for (std::size_t p = 0; p < m.points.size(); ++p) {
    const auto found = std::find(n.point_names.begin(), n.point_names.end(), m.point_names[p]);
    if (found == n.point_names.end()) {
      table.add({m.point_names[p], shown(m.points[p].x, 3), shown(m.points[p].y, 3), "–", "–", "", "", "only in A"});
      continue;
    }
    const bike::Point there = n.points[static_cast<std::size_t>(found - n.point_names.begin())];
    const bike::Point by = there - m.points[p];
    if (norm(by) == 0.0) ++same;
    table.add({m.point_names[p], shown(m.points[p].x, 3), shown(m.points[p].y, 3), shown(there.x, 3), shown(there.y, 3),
               difference(by.x, 3), difference(by.y, 3), norm(by) > 0.0 ? shown(norm(by), 3) : "0"});
  }
  for (std::size_t p = 0; p < n.points.size(); ++p)
    if (std::find(m.point_names.begin(), m.point_names.end(), n.point_names[p]) == m.point_names.end())
      table.add({n.point_names[p], "–", "–", shown(n.points[p].x, 3), shown(n.points[p].y, 3), "", "", "only in B"});
  print_out("\npoints, mm{}:\n{}", same == m.points.size() && same == n.points.size() ? ": all the same" : "",
            table.text(2));
}

/// One side of the comparison: its layout, and each target of either as it can be judged by it.
struct Side {
  bike::Layout layout;
  std::vector<std::optional<Target>> targets;
  search::Drawn drawn;

  const objectives::Verdict* verdict(std::size_t target) const {
    if (!targets[target] || !drawn.moves()) return nullptr;
    std::size_t place = 0;
    for (std::size_t t = 0; t < target; ++t) place += targets[t] ? 1 : 0;
    return &drawn.judged->targets[place];
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

/// What it achieves; of a path how far off it, since where that is decided may differ.
std::string with_mark(const objectives::Verdict* verdict, const Target& target) {
  if (verdict == nullptr) return "–";
  const bool path = target.wish.kind == objectives::Wish::Kind::follow;
  return (verdict->met ? "✓ " : "✗ ") +
         report::quantity(search::compared(target, *verdict), report::decimals_for(target.tolerance), unit_of(target)) +
         (path ? " off" : "");
}

void print_targets(const Side& a, const Side& b, const std::vector<std::string>& names) {
  TextTable table({Align::left, Align::left, Align::left, Align::right, Align::right, Align::right});
  for (std::size_t t = 0; t < names.size(); ++t) {
    const Target* one = a.targets[t] ? &*a.targets[t] : b.targets[t] ? &*b.targets[t] : nullptr;
    if (one == nullptr) continue;
    if (table.empty()) table.add({"target", "", "asked for", "A", "B", "difference"});
    const auto *was = a.verdict(t), *is = b.verdict(t);
    const bool both = a.targets[t] && b.targets[t];
    std::string wished = report::wish(*one);
    if (const std::string theirs = both ? report::wish(*b.targets[t]) : wished; theirs != wished)
      wished.append(" → ").append(theirs);
    table.add({names[t], one->must ? "required" : "preferred", wished, with_mark(was, *one), with_mark(is, *one),
               was != nullptr && is != nullptr ? difference(search::compared(*one, *is) - search::compared(*one, *was),
                                                            report::decimals_for(one->tolerance))
                                               : ""});
  }
  if (!table.empty()) print_out("\ntargets:\n{}", table.text(2));
}

/// Curves that are put side by side, as far as both layouts have them.
constexpr Curve compared[] = {Curve::leverage,  Curve::anti_squat, Curve::anti_rise,  Curve::chain_growth,
                              Curve::kickback,  Curve::rearward,   Curve::chainstay,  Curve::wheelbase,
                              Curve::bb_height, Curve::wheel_rate, Curve::wheel_force};

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

void print_curves(const bike::Layout& a, const bike::Layout& b, const std::vector<double>& travels) {
  const bike::CurveTable in_a = bike::trace(a, 41, false).table, in_b = bike::trace(b, 41, false).table;
  const double whole_a = bike::whole_travel(in_a), whole_b = bike::whole_travel(in_b);
  std::vector<Place> places{
      {"topped out", 0.0, 0.0}, {"at sag", bike::sag_travel(a), bike::sag_travel(b)}, {"bottomed", whole_a, whole_b}};
  for (const double travel : travels)
    places.insert(places.end() - 1, {"at " + shown(travel, 1) + " mm", travel, travel});
  TextTable table({Align::left, Align::left, Align::right, Align::right, Align::right});
  table.add({"curve", "place", "A", "B", "difference"});
  table.add({"Wheel travel, mm", "at sag", shown(places[1].in_a, 1), shown(places[1].in_b, 1),
             difference(places[1].in_b - places[1].in_a, 1)});
  table.add({"", "bottomed", shown(whole_a, 1), shown(whole_b, 1), difference(whole_b - whole_a, 1)});
  for (const Curve curve : compared)
    for (const bike::CurveKey key : bike::keys_of(in_a, curve)) {
      const auto other = counterpart(key, a, b);
      if (!other) continue;
      const int decimals = report::decimals_for(bike::record(curve).tolerance);
      std::string title = report::curve_title(key, a);
      if (!bike::record(curve).unit.empty()) title += ", " + std::string(bike::record(curve).unit);
      for (const Place& place : places) {
        const auto was = bike::value_at(in_a, key, place.in_a), is = bike::value_at(in_b, *other, place.in_b);
        if (!was && !is) continue;
        table.add({title, place.name, was ? shown(*was, decimals) : "–", is ? shown(*is, decimals) : "–",
                   was && is ? difference(*is - *was, decimals) : ""});
        title.clear();
      }
    }
  print_out("\ncurves, each layout at its own places; differences are B less A:\n{}", table.text(2));
}

}  // namespace

void print_changes(const std::filesystem::path& before, const std::filesystem::path& after,
                   const std::vector<double>& travels) {
  std::string problems;
  std::vector<Origin> sides;
  for (const auto& file : {before, after}) {
    try {
      sides.push_back(read_with_origin(file));
    } catch (const BadInput& e) {
      problems += e.what();
    }
  }
  if (!problems.empty()) throw BadInput(problems);
  const Origin &a = sides[0], &b = sides[1];
  print_out("A: {}, {}\nB: {}, {}\n", a.file.layout.title, before.string(), b.file.layout.title, after.string());
  for (const Origin& side : sides)
    if (!side.remark.empty()) complain("warning: {}\n", side.remark);
  print_said(a.file, b.file);
  if (!a.file.linkages.empty() || !b.file.linkages.empty()) {
    print_out("\n{}", folded("A brief that names linkages draws none: points, targets and curves are compared of "
                             "layouts, such as those of its study.",
                             0, 0));
    return;
  }
  print_points(a.file.layout, b.file.layout);
  const std::vector<std::string> names = names_of(a, b);
  const Side of_a = side_of(a, b, names), of_b = side_of(b, a, names);
  bool moves = true;
  for (const auto& [side, name] : {std::pair(&of_a, "A"), std::pair(&of_b, "B")})
    for (const search::DrawnCase& one : side->drawn.cases)
      if (one.failure) {
        print_out("\n{}", folded(std::string(name) + " " + *one.failure, 0, 2));
        moves = false;
      }
  print_targets(of_a, of_b, names);
  if (!moves) return;
  try {
    print_curves(a.file.layout, b.file.layout, travels);
  } catch (const bike::MotionFailure& failure) {  // as drawn, though its settings move
    print_out("\n{}", folded("as drawn one of them " + failure.text + "; no curves are compared", 0, 2));
  }
}

}  // namespace trammel::app
