#include "search/references.hpp"

#include <algorithm>
#include <cmath>

#include "bike/reading.hpp"
#include "search/chance.hpp"
#include "search/shortlist.hpp"
#include "search/tolerance.hpp"

namespace trammel::search {
namespace {

/// The gear's number in the reference, which gets it when it has none like it. Where the study chooses the chainring, a
/// reference keeps its own.
int gear_in(bike::Layout& reference, bike::Gear gear) {
  auto& gears = reference.drivetrain.gears;
  if (gear.any_ring && !gears.empty()) gear.chainring = gears.front().chainring;
  const auto found = std::find_if(gears.begin(), gears.end(), [&](const bike::Gear& g) {
    return g.cog == gear.cog && g.chainring == gear.chainring;
  });
  if (found == gears.end()) {
    gears.push_back(gear);
    return static_cast<int>(gears.size()) - 1;
  }
  found->any_ring = gear.any_ring;  // it goes by the study's name for it
  return static_cast<int>(found - gears.begin());
}

/// Puts the number that a point's name has in another mechanism in place of its own; false where it has none.
bool find_like(const linkage::Mechanism& from, const linkage::Mechanism& to, int& point) {
  const auto& names = to.point_names;
  const auto found = std::find(names.begin(), names.end(), from.point_names[static_cast<std::size_t>(point)]);
  point = static_cast<int>(found - names.begin());
  return found != names.end();
}

/// The load case's number in the reference, which gets the case: it is what a brief asks of a linkage, not a part of
/// it.
int load_in(bike::Layout& reference, const bike::Layout& asked, int number) {
  bike::LoadCase load = asked.loads.cases[static_cast<std::size_t>(number)];
  if (load.gear >= 0) load.gear = gear_in(reference, asked.drivetrain.gears[static_cast<std::size_t>(load.gear)]);
  reference.loads.cases.push_back(load);
  return static_cast<int>(reference.loads.cases.size()) - 1;
}

/// A layout's own number of one of its gears, by the numbers of another's.
std::optional<bike::CurveKey> key_in(const bike::Layout& layout, const bike::Layout& asked, bike::CurveKey key) {
  if (key.gear < 0) return key;
  const auto& gears = layout.drivetrain.gears;
  const std::string name = asked.drivetrain.gears[static_cast<std::size_t>(key.gear)].name();
  const auto found = std::find_if(gears.begin(), gears.end(), [&](const bike::Gear& g) { return g.name() == name; });
  if (found == gears.end()) return std::nullopt;
  key.gear = static_cast<int>(found - gears.begin());
  return key;
}

/// Where the middle of the class runs, for every curve that at least three of it have.
void add_bands(const bike::Layout& asked, References& out) {
  constexpr int steps = 40;
  constexpr std::size_t least_class = 3;
  for (int i = 0; i <= steps; ++i) out.fractions.push_back(static_cast<double>(i) / steps);
  const bike::CurveTable columns = bike::trace(asked, 2, true).table;
  for (const bike::CurveKey& key : banded(columns)) {
    CurveBand band{key, {}, {}};
    for (const double fraction : out.fractions) {
      std::vector<double> values;
      for (const ReferenceSheet& one : out.layouts) {
        const auto own = key_in(one.sheet.layout, asked, key);
        if (!own) continue;
        const bike::CurveTable& table = one.sheet.motion.table;
        if (const auto y = bike::value_at(table, *own, fraction * bike::whole_travel(table))) values.push_back(*y);
      }
      if (values.size() < least_class) break;
      std::sort(values.begin(), values.end());
      band.low.push_back(quantile(values, 0.1));
      band.high.push_back(quantile(values, 0.9));
    }
    if (band.low.size() == out.fractions.size()) out.bands.push_back(std::move(band));
  }
}

ReferenceSheet judged(const brief::Brief& brief, const Reference& reference) {
  ReferenceSheet out;
  out.name = reference.name;
  bike::Layout layout = reference.layout;
  layout.settings.clear();
  layout.sizes.clear();
  std::vector<objectives::Target> targets;
  std::vector<std::size_t> numbers;
  for (std::size_t t = 0; t < brief.targets.size(); ++t)
    if (auto target = target_for(brief.targets[t], brief.layout, layout)) {
      targets.push_back(std::move(*target));
      numbers.push_back(t);
    }
  out.sheet = make_sheet(layout, targets, {});
  out.sheet.id = reference.name;
  if (reference.tolerances) {
    const objectives::Packaging none;
    const Drawing drawing{layout, targets, none, objectives::usable_instruction_sets().back()};
    out.sheet.tolerance = study_tolerances(drawing, *reference.tolerances, brief.search.seed, {}, [] {});
    out.spread.resize(brief.targets.size());
    for (std::size_t i = 0; i < numbers.size(); ++i)
      if (targets[i].wish.kind != objectives::Wish::Kind::follow)
        out.spread[numbers[i]] = {out.sheet.tolerance->targets[i].low, out.sheet.tolerance->targets[i].high};
  }
  out.achieved.resize(brief.targets.size());
  for (std::size_t i = 0; i < numbers.size(); ++i)
    out.achieved[numbers[i]] = compared(targets[i], out.sheet.assessment.targets[i]);
  return out;
}

}  // namespace

std::optional<objectives::Target> target_for(const objectives::Target& target, const bike::Layout& asked,
                                             bike::Layout& reference) {
  objectives::Target out = target;
  out.in.clear();
  switch (const bike::Needs needs = bike::record(target.curve.curve).needs; needs) {
    case bike::Needs::gear: {
      const auto like = [&](int gear) {
        return gear_in(reference, asked.drivetrain.gears[static_cast<std::size_t>(gear)]);
      };
      out.curve.gear = like(target.curve.gear);
      std::transform(out.gears.begin(), out.gears.end(), out.gears.begin(), like);
      return out;
    }
    case bike::Needs::point:
    case bike::Needs::points:
      for (int* point : {&out.curve.a, &out.curve.b})
        if (*point >= 0 && !find_like(asked.mechanism, reference.mechanism, *point)) return std::nullopt;
      return out;
    case bike::Needs::pivot: {
      if (!bike::has(reference, bike::Needs::shock)) return std::nullopt;
      if (!find_like(asked.mechanism, reference.mechanism, out.curve.a)) return std::nullopt;
      const std::vector<int> pivots = linkage::pivots(reference.mechanism);
      if (std::find(pivots.begin(), pivots.end(), out.curve.a) == pivots.end()) return std::nullopt;
      out.curve.load = load_in(reference, asked, target.curve.load);
      return out;
    }
    default:
      return bike::has(reference, needs) ? std::optional(out) : std::nullopt;
  }
}

double compared(const objectives::Target& target, const objectives::Verdict& verdict) {
  return target.wish.kind == objectives::Wish::Kind::follow ? std::abs(verdict.achieved - verdict.wished)
                                                            : verdict.achieved;
}

References judge_references(const brief::Brief& brief, const std::vector<Reference>& layouts) {
  References out;
  out.values.resize(brief.targets.size());
  for (const Reference& reference : layouts) {
    try {
      out.layouts.push_back(judged(brief, reference));
    } catch (const bike::MotionFailure& failure) {
      out.left_out.push_back(reference.name + " " + failure.text);
      continue;
    }
    for (std::size_t t = 0; t < out.values.size(); ++t)
      if (const auto& value = out.layouts.back().achieved[t]) out.values[t].push_back(*value);
  }
  for (std::vector<double>& values : out.values) std::sort(values.begin(), values.end());
  try {
    add_bands(brief.layout, out);
  } catch (const bike::MotionFailure&) {
    out.bands.clear();  // the brief's drawn layout, whose curves they are named by, does not move
  }
  return out;
}

Standing standing(const std::vector<double>& rising, double value) {
  const double slack = 1e-9 * (1.0 + std::abs(value));
  const auto first = std::lower_bound(rising.begin(), rising.end(), value - slack);
  const auto last = std::upper_bound(rising.begin(), rising.end(), value + slack);
  return {static_cast<std::size_t>(first - rising.begin()), static_cast<std::size_t>(rising.end() - last),
          rising.size()};
}

}  // namespace trammel::search
