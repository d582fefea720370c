#include "search/references.hpp"

#include <algorithm>
#include <cmath>

#include "bike/reading.hpp"
#include "objectives/transfer.hpp"
#include "search/chance.hpp"
#include "search/make_sheet.hpp"
#include "search/tolerance.hpp"

namespace trammel::search {
namespace {

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
    if (auto target = objectives::target_for(brief.targets[t], brief.layout, layout)) {
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
      if (!targets[i].wish.along_path())
        out.spread[numbers[i]] = {out.sheet.tolerance->targets[i].low, out.sheet.tolerance->targets[i].high};
  }
  out.achieved.resize(brief.targets.size());
  for (std::size_t i = 0; i < numbers.size(); ++i)
    out.achieved[numbers[i]] = compared(targets[i], out.sheet.assessment.targets[i]);
  return out;
}

}  // namespace

double compared(const objectives::Target& target, const objectives::Verdict& verdict) {
  if (!target.wish.along_path()) return verdict.achieved;
  const double off = verdict.achieved - verdict.wished;
  return target.wish.kind == objectives::Wish::Kind::follow ? std::abs(off) : off;
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
