#include "search/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "objectives/assessor.hpp"
#include "objectives/merge.hpp"
#include "objectives/rules/table.hpp"
#include "search/built.hpp"
#include "search/chance.hpp"
#include "search/running_sample.hpp"

namespace trammel::search {
namespace {

constexpr double low_end = 0.05, high_end = 0.95;
/// Frames built between two looks at whether to stop.
constexpr int stretch = 64;

/// Frames built to one drawing, in all its cases.
class Frames {
 public:
  Frames(const Drawing& drawing, const std::vector<bike::CurveKey>& bands)
      : drawing_(drawing),
        cases_(cases_of(drawing.layout, drawing.targets)),
        comparisons_(objectives::comparisons_of(drawing.layout, drawing.targets)) {
    for (CaseSetup& one : cases_) {
      counts_.push_back(one.targets.size());
      if (&one == &cases_.front()) add_bands(bands, one.targets);
      built_.push_back(std::make_unique<BuiltCase>(drawing.layout, one.which, one.targets, drawing.packaging,
                                                   drawing.instruction_set));
    }
  }

  /// Builds a frame and judges it, all cases as one.
  objectives::Assessment judge(const Errors& errors) {
    judged_.clear();
    assembles_ = true;
    for (std::size_t k = 0; k < built_.size(); ++k) {
      const objectives::Outcome<double>& outcome = built_[k]->build(errors);
      outcomes_.resize(built_.size());
      outcomes_[k] = &outcome;
      assembles_ = assembles_ && outcome.assembles();
      judged_.push_back({cases_[k].name, cases_[k].numbers, assess(built_[k]->demands(), outcome)});
      judged_.back().assessment.targets.resize(counts_[k]);
    }
    for (std::size_t k = 0; k < built_.size(); ++k)
      for (std::size_t t = 0; t < counts_[k]; ++t)
        for (double y : outcomes_[k]->values[t]) assembles_ = assembles_ && std::isfinite(y);
    return merged(judged_, drawing_.targets, comparisons_);
  }
  /// Whether the frame last built assembles.
  bool assembles() const { return assembles_; }

  /// Where a target is judged: a case, its number there, and one of its places; of one that compares cases another from
  /// whose value that is taken.
  struct Place {
    std::size_t in = 0, target = 0, index = 0;
    struct Less {
      std::size_t in = 0, target = 0;
    };
    std::optional<Less> less = {};
  };
  /// Where each target of the frame last built comes nearest to breaking its wish.
  std::vector<Place> places() const {
    std::vector<Place> out(drawing_.targets.size());
    std::vector<double> least(out.size(), 2.0);
    for (std::size_t k = 0; k < cases_.size(); ++k)
      for (std::size_t t = 0; t < counts_[k]; ++t)
        for (std::size_t i = 0; i < outcomes_[k]->values[t].size(); ++i) {
          const std::size_t number = cases_[k].numbers[t];
          if (drawing_.targets[number].between) continue;
          const double inside = objectives::margin(built_[k]->demands().allowed[t][i], outcomes_[k]->values[t][i]);
          if (!(inside < least[number])) continue;
          least[number] = inside;
          out[number] = {k, t, i};
        }
    for (const objectives::Comparison& one : comparisons_) {
      const auto [place, value] = compared(one);
      const double inside = objectives::margin(allowed_at(drawing_.targets[one.target], 0.0), value);
      if (!(inside < least[one.target])) continue;
      least[one.target] = inside;
      out[one.target] = place;
    }
    return out;
  }
  double at(const Place& place) const {
    const double value = outcomes_[place.in]->values[place.target][place.index];
    return place.less ? value - outcomes_[place.less->in]->values[place.less->target].front() : value;
  }
  /// A band's values at its places.
  const std::vector<double>& band(std::size_t b) const { return outcomes_.front()->values[counts_.front() + b]; }
  const std::vector<double>& band_fractions() const {
    return built_.front()->demands().places.targets[counts_.front()].fractions;
  }

  /// Slopes of every target where `places` says, by the coordinates of `addresses`.
  std::vector<std::vector<double>> slopes(const std::vector<Place>& places, std::span<const int> addresses) {
    std::vector<std::vector<double>> out(places.size());
    for (std::size_t k = 0; k < built_.size(); ++k) {
      const auto all = built_[k]->slopes(addresses);
      for (std::size_t t = 0; t < places.size(); ++t) {
        if (places[t].in == k) add(all[places[t].target][places[t].index], 1.0, out[t]);
        if (places[t].less && places[t].less->in == k) add(all[places[t].less->target].front(), -1.0, out[t]);
      }
    }
    return out;
  }

 private:
  static void add(const std::vector<double>& slopes, double weight, std::vector<double>& out) {
    out.resize(slopes.size(), 0.0);
    for (std::size_t i = 0; i < slopes.size(); ++i) out[i] += weight * slopes[i];
  }

  /// Where a difference of the frame last built is taken, and what it is.
  std::pair<Place, double> compared(const objectives::Comparison& one) const {
    std::vector<double> values;
    for (const std::size_t k : one.cases)
      values.push_back(outcomes_[k]->values[cases_[k].place_of(one.target)].front());
    const objectives::Difference d = objectives::difference(one, values);
    const std::size_t more = one.cases[d.more], less = one.cases[d.less];
    return {{more, cases_[more].place_of(one.target), 0, Place::Less{less, cases_[less].place_of(one.target)}},
            d.value};
  }

  /// A band is a target that nothing fails, over the whole travel.
  static void add_bands(const std::vector<bike::CurveKey>& bands, std::vector<objectives::Target>& targets) {
    for (const bike::CurveKey& key : bands) {
      objectives::Target target;
      target.curve = key;
      target.over = objectives::Stretch{};
      target.wish.kind = objectives::Wish::Kind::floor;
      target.wish.lo = -1e300;
      targets.push_back(target);
    }
  }

  Drawing drawing_;
  std::vector<CaseSetup> cases_;
  std::vector<objectives::Comparison> comparisons_;
  std::vector<std::size_t> counts_;  ///< targets of each case, bands left out
  std::vector<std::unique_ptr<BuiltCase>> built_;
  std::vector<const objectives::Outcome<double>*> outcomes_;
  std::vector<objectives::CaseAssessment> judged_;
  bool assembles_ = true;
};

/// Slopes and what follows from them to first order.
void find_slopes(Frames& frames, const std::vector<Frames::Place>& places, const Drawing& drawing,
                 const brief::Tolerances& tolerances, ToleranceSheet& sheet) {
  std::vector<int> addresses;
  for (auto& [address, coordinate] : coordinates(drawing.layout, tolerances)) {
    addresses.push_back(address);
    sheet.coordinates.push_back(coordinate);
  }
  const std::vector<std::vector<double>> slopes = frames.slopes(places, addresses);
  for (std::size_t t = 0; t < slopes.size(); ++t) {
    TargetSpread& spread = sheet.targets[t];
    spread.slopes = slopes[t];
    double variance = 0.0;
    for (std::size_t c = 0; c < addresses.size(); ++c) {
      const Coordinate& coordinate = sheet.coordinates[c];
      variance += math::square(slopes[t][c] * coordinate.deviation);
      sheet.effects.push_back(
          {t, c, slopes[t][c], std::abs(slopes[t][c]) * coordinate.plus_minus / drawing.targets[t].tolerance});
    }
    spread.first_order = std::sqrt(variance);
  }
  std::stable_sort(sheet.effects.begin(), sheet.effects.end(),
                   [](const Effect& a, const Effect& b) { return a.tolerances > b.tolerances; });
}

/// The sheet with what the layout as drawn has.
ToleranceSheet sheet_of(const objectives::Assessment& drawn, const Frames& frames,
                        const std::vector<Frames::Place>& places) {
  ToleranceSheet sheet;
  sheet.targets.resize(places.size());
  for (std::size_t t = 0; t < places.size(); ++t) sheet.targets[t].nominal = frames.at(places[t]);
  for (const objectives::RuleVerdict& rule : drawn.rules)
    sheet.rules.push_back(
        {rule.rule == objectives::rule_number<objectives::rules::Boxes> ? "box of " + rule.where : rule.name, {}});
  return sheet;
}

/// Samples of some numbers.
using Samples = std::vector<RunningSample>;

void describe(const RunningSample& sample, TargetSpread& spread) {
  spread.mean = sample.mean();
  spread.deviation = sample.deviation();
  const auto [low, high] = sample.quantiles();
  spread.low = low;
  spread.high = high;
}

Errors no_errors(const bike::Layout& layout) {
  return {std::vector<bike::Point>(layout.mechanism.points.size(), {0.0, 0.0})};
}

}  // namespace

std::string what_is_kept(const std::vector<objectives::Target>& targets) {
  const bool musts = std::any_of(targets.begin(), targets.end(), [](const auto& target) { return target.must; });
  return musts ? "every requirement" : "every rule of packaging and feasibility; no target is required";
}

std::vector<bike::CurveKey> banded(const bike::CurveTable& table) {
  using bike::Curve;
  std::vector<bike::CurveKey> out;
  for (const bike::Column& column : table.columns)
    if (const Curve c = column.key.curve; c != Curve::ic_x && c != Curve::ic_y && c != Curve::travel)
      out.push_back(column.key);
  return out;
}

ToleranceSheet study_tolerances(const Drawing& drawing, const brief::Tolerances& tolerances, std::uint64_t seed,
                                const std::vector<bike::CurveKey>& bands, const std::function<void()>& between) {
  Frames frames(drawing, bands);
  const objectives::Assessment drawn = frames.judge(no_errors(drawing.layout));
  const std::vector<Frames::Place> places = frames.places();
  ToleranceSheet sheet = sheet_of(drawn, frames, places);
  if (!bands.empty()) sheet.fractions = frames.band_fractions();

  const RunningSample none(low_end, high_end);
  Samples values(places.size(), none), curves(bands.size() * sheet.fractions.size(), none);
  std::vector<std::int64_t> targets_met(places.size(), 0), rules_met(sheet.rules.size(), 0);
  std::int64_t kept = 0;
  for (int frame = 0; frame < tolerances.samples; ++frame) {
    if (frame % stretch == 0) between();
    const objectives::Assessment built = frames.judge(errors_of(tolerances, seed, static_cast<std::uint64_t>(frame)));
    if (!frames.assembles()) {
      ++sheet.unassembled;
      continue;
    }
    if (built.feasible()) ++kept;
    for (std::size_t t = 0; t < places.size(); ++t) {
      if (built.targets[t].met) ++targets_met[t];
      values[t].add(frames.at(places[t]));
    }
    for (std::size_t r = 0; r < rules_met.size(); ++r)
      if (built.rules[r].met) ++rules_met[r];
    for (std::size_t b = 0, next = 0; b < bands.size(); ++b)
      for (double y : frames.band(b)) curves[next++].add(y);
  }
  sheet.yield = share_of_sample(kept, tolerances.samples);
  for (std::size_t t = 0; t < places.size(); ++t) {
    sheet.targets[t].met = share_of_sample(targets_met[t], tolerances.samples);
    if (values[t].count() > 0) describe(values[t], sheet.targets[t]);
  }
  for (std::size_t r = 0; r < rules_met.size(); ++r)
    sheet.rules[r].met = share_of_sample(rules_met[r], tolerances.samples);
  for (std::size_t b = 0, next = 0; b < bands.size(); ++b) {
    CurveBand band{bands[b], {}, {}};
    for (std::size_t i = 0; i < sheet.fractions.size(); ++i, ++next) {
      if (curves[next].count() == 0 || !curves[next].finite()) continue;
      const auto [low, high] = curves[next].quantiles();
      band.low.push_back(low);
      band.high.push_back(high);
    }
    if (!band.low.empty() && band.low.size() == sheet.fractions.size()) sheet.bands.push_back(std::move(band));
  }
  find_slopes(frames, places, drawing, tolerances, sheet);
  return sheet;
}

Share yield_of(const Drawing& drawing, const brief::Tolerances& tolerances, std::uint64_t seed,
               const std::function<void()>& between) {
  Frames frames(drawing, {});
  std::int64_t kept = 0;
  for (int frame = 0; frame < tolerances.samples; ++frame) {
    if (frame % stretch == 0) between();
    const objectives::Assessment built = frames.judge(errors_of(tolerances, seed, static_cast<std::uint64_t>(frame)));
    if (frames.assembles() && built.feasible()) ++kept;
  }
  return share_of_sample(kept, tolerances.samples);
}

ToleranceSheet study_slopes(const Drawing& drawing) {
  brief::Tolerances per_mm;
  per_mm.points.assign(drawing.layout.mechanism.points.size(), {1.0, 1.0});
  per_mm.shock_length = per_mm.rear_wheel = per_mm.front_wheel = 1.0;
  Frames frames(drawing, {});
  const objectives::Assessment drawn = frames.judge(no_errors(drawing.layout));
  const std::vector<Frames::Place> places = frames.places();
  ToleranceSheet sheet = sheet_of(drawn, frames, places);
  find_slopes(frames, places, drawing, per_mm, sheet);
  return sheet;
}

}  // namespace trammel::search
