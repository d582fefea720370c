#include "draft/onward.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "bike/reading.hpp"
#include "bike/table.hpp"
#include "brief/edit.hpp"
#include "brief/problems.hpp"
#include "brief/ranges_around.hpp"
#include "brief/read.hpp"
#include "brief/readings.hpp"
#include "brief/scalar.hpp"
#include "draft/carried.hpp"
#include "draft/wishes.hpp"
#include "report/write.hpp"

namespace trammel::draft {
namespace {

std::set<int> points_to_keep(const Onward& from) {
  const auto& names = from.layout.mechanism.point_names;
  std::set<int> out;
  std::string problems;
  for (const std::string& name : from.keep) {
    const auto found = std::find(names.begin(), names.end(), name);
    if (found != names.end())
      out.insert(static_cast<int>(found - names.begin()));
    else
      problems += "--keep: '" + brief::printable(name) + "' is no point of the linkage; it has " + brief::join(names) +
                  brief::suggestion(name, names) + "\n";
  }
  if (!problems.empty()) throw NoWayOn(problems);
  return out;
}

/// The lowest gear, one in the middle and the highest, by how far a turn of the cranks takes the bike.
std::array<std::string, 3> gears_of(const bike::Drivetrain& train) {
  std::vector<bike::Gear> gears = train.gears;
  if (gears.empty()) return {};
  std::stable_sort(gears.begin(), gears.end(),
                   [](const bike::Gear& a, const bike::Gear& b) { return a.chainring * b.cog < b.chainring * a.cog; });
  return {gears.front().name(), gears[gears.size() / 2].name(), gears.back().name()};
}

/// What is usual for the layout's kind; only its own travel where that is not known.
std::string usual_wishes(const Onward& from) {
  double travel = 0.0;
  try {
    travel = bike::whole_travel(bike::trace(from.layout, 11, false).table);
  } catch (const bike::MotionFailure& failure) {
    throw NoWayOn(from.name + ": linkage: the layout as drawn " + failure.text);
  }
  const std::optional<bike::Kind> kind = from.layout.kind ? from.layout.kind : from.kind;
  const auto stroke = from.layout.shock ? std::optional(from.layout.shock->stroke) : std::nullopt;
  if (kind) return "\n" + usual_targets(usual(*kind), {travel, stroke, false, gears_of(from.layout.drivetrain)});
  return "\n" + travel_target(travel);
}

std::string head_words(const Onward& from) {
  const std::string within = brief::rounded_text(from.within) + " mm";
  return "# Brief: goes on from " + brief::printable(from.name) +
         ", drafted by `trammel draft`. The points are where they are there; those\n# under `vary` may move by up to " +
         within + ", the others stay." + (from.of ? " The rest is that of the brief that the layout is of." : "") +
         "\n";
}

/// The text with the numbers that wishes had from the layout as drawn: the new brief draws another one, and what was
/// wished stays what it was.
std::string with_drawn_found(const brief::Brief& of) {
  std::vector<brief::Change> changes;
  for (std::size_t t = 0; t < of.targets.size(); ++t) {
    const auto& relative = of.targets[t].relative;
    if (!relative || !relative->of.empty()) continue;
    const std::string target = "targets[" + std::to_string(t) + "].";
    const bool curve = of.targets[t].wish.along_path();
    changes.push_back({target + "of", "first-drawing"});
    changes.push_back(curve ? brief::Change{target + "found_curve", brief::list_text(relative->found)}
                            : brief::Change{target + "found", brief::exact_text(relative->found.front().second)});
  }
  return brief::with_changes(of.text, changes);
}

/// The wishes and whatever else the brief says beside the layout.
std::string rest_of(const Onward& from) {
  std::string text = with_drawn_found(*from.of);
  if (!from.of->references.empty() && !from.references.empty())
    text = brief::with_changes(text, {{"references.folder", nlohmann::json(from.references).dump()}});
  return carried_over(text, from.layout);
}

}  // namespace

std::string onward(const Onward& from) {
  const brief::Around around{from.layout, from.of ? brief::placed_by(from.layout, *from.of) : nullptr,
                             points_to_keep(from), from.within};
  const std::string vary = brief::ranges_around(around);
  if (vary.empty()) throw NoWayOn("nothing is left to move: every point that may is kept");
  bike::Layout layout = from.layout;
  if (from.of) layout.title = from.of->layout.title;
  if (!layout.kind) layout.kind = from.kind;
  std::string out = head_words(from) + report::layout_yaml(layout, from.notes) + "\n" + vary;
  const bool wishes = from.of && has_targets(from.of->text);
  if (!wishes) out += usual_wishes(from);
  const std::string rest = from.of ? rest_of(from) : "";
  out += rest;
  if (("\n" + rest).find("\nsearch:") == std::string::npos) out += "\nsearch: { seed: 1, units: 32 }\n";
  if (const brief::Reading reading = brief::read_text(out, from.name); !reading.ok()) {
    std::string problems;
    for (const brief::Problem& problem : reading.problems)
      problems += from.name + ": " + problem.where + ": " + problem.what + "\n";
    throw NoWayOn(problems);
  }
  return out;
}

}  // namespace trammel::draft
