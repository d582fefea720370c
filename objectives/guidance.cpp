#include "objectives/guidance.hpp"

#include <algorithm>

#include "bike/table.hpp"
#include "objectives/assessor.hpp"

namespace trammel::objectives {
namespace {

using bike::Curve;
using bike::Kind;
constexpr Station topped_out{Station::Kind::topped_out, 0.0}, sag{Station::Kind::sag, 0.0},
    bottomed{Station::Kind::bottomed, 0.0};
constexpr Stretch whole{0.0, 1.0};

GuidanceRecord travel_of(Kind kind, double least, double greatest) {
  return {"travel",
          "Wheel travel",
          {kind},
          {},
          Curve::travel,
          bottomed,
          {},
          {},
          least,
          greatest,
          "Less travel than is usual for the kind of bike.",
          "More travel than is usual for the kind of bike."};
}

GuidanceRecord sag_of(std::vector<Kind> kinds, double least, double greatest) {
  // The share of the travel, whatever the layout's sag is a fraction of.
  return {"sag",
          "Sag as a share of wheel travel",
          std::move(kinds),
          Measure::ratio,
          Curve::travel,
          bottomed,
          sag,
          {},
          least,
          greatest,
          "Little sag: firm under pedalling, less wheel travel left to extend into holes.",
          "Much sag: the wheel follows the ground well, and less travel is left against bottoming out."};
}

GuidanceRecord progressivity_of(std::vector<Kind> kinds, double least, double greatest) {
  return {"progressivity",
          "Progressivity from topped out to bottomed",
          std::move(kinds),
          Measure::progressivity,
          Curve::leverage,
          topped_out,
          bottomed,
          {},
          least,
          greatest,
          "Flat leverage: the linkage adds little, so the shock alone must keep the bike from bottoming out.",
          "Leverage falls a lot: the end of the travel is hard to use, more so with an air spring."};
}

}  // namespace

std::span<const GuidanceRecord> guidance_table() {
  using enum Kind;
  static const std::vector<GuidanceRecord> table{
      {"anti_squat",
       "Anti-squat at sag in the lowest gear",
       {},
       {},
       Curve::anti_squat,
       sag,
       {},
       {},
       80.0,
       120.0,
       "Well under 100 %: the rear sinks under hard pedalling.",
       "Well over 100 %: the rear rises under hard pedalling, and the chain works against the suspension."},
      {"anti_rise",
       "Anti-rise at sag",
       {},
       {},
       Curve::anti_rise,
       sag,
       {},
       {},
       20.0,
       150.0,
       "Hardly any: the rear extends under braking and the weight pitches onto the front wheel.",
       "Near or over 150 %: the rear is pulled down and feels harsh under braking."},
      {"chainstay_growth",
       "Greatest chainstay growth",
       {cross_country, trail, kids},
       Measure::greatest,
       Curve::chainstay_growth,
       {},
       {},
       whole,
       {},
       20.0,
       "",
       "More than is usual on shorter-travel bikes: chain growth and kickback are felt at the pedals."},
      progressivity_of({}, 0.05, 0.40),
      progressivity_of({enduro, downhill}, 0.10, 0.40),
      {"falling_leverage",
       "Greatest rise of the leverage",
       {},
       Measure::rise,
       Curve::leverage,
       {},
       {},
       whole,
       {},
       0.05,
       "",
       "The leverage rises on part of the travel: there the wheel gets softer, not progressive."},
      {"mean_leverage",
       "Mean leverage",
       {},
       Measure::mean,
       Curve::leverage,
       {},
       {},
       whole,
       2.0,
       3.3,
       "Low leverage: a long shock for the travel, and a spring so soft that friction is felt and little is left to "
       "tune.",
       "High leverage: the shock needs a high pressure or a stiff coil, and its damping a firm tune."},
      sag_of({}, 0.15, 0.35),
      sag_of({cross_country}, 0.15, 0.30),
      sag_of({enduro, downhill}, 0.25, 0.38),
      travel_of(cross_country, 80.0, 130.0),
      travel_of(trail, 110.0, 160.0),
      travel_of(enduro, 145.0, 185.0),
      travel_of(downhill, 180.0, 220.0),
  };
  return table;
}

Target target_of(const GuidanceRecord& r, int gear) {
  Target t;
  t.name = r.what;
  t.measure = r.measure;
  t.curve = {r.curve, bike::record(r.curve).needs == bike::Needs::gear ? gear : -1};
  t.at = r.at;
  t.to = r.to;
  t.over = r.over;
  t.tolerance = r.measure ? default_tolerance(*r.measure, r.curve) : bike::record(r.curve).tolerance;
  t.wish.kind = !r.least ? Wish::Kind::ceiling : !r.greatest ? Wish::Kind::floor : Wish::Kind::band;
  t.wish.lo = r.least ? *r.least : *r.greatest;
  t.wish.hi = r.greatest ? *r.greatest : *r.least;
  return t;
}

int lowest_gear(const bike::Drivetrain& drivetrain) {
  const auto& gears = drivetrain.gears;
  const auto lower = [](const bike::Gear& a, const bike::Gear& b) { return a.chainring * b.cog < b.chainring * a.cog; };
  return gears.empty() ? -1 : static_cast<int>(std::min_element(gears.begin(), gears.end(), lower) - gears.begin());
}

std::string_view Remark::words() const {
  if (verdict.met) return {};
  return record->least && verdict.achieved < *record->least ? record->below : record->above;
}

std::vector<SharedRemark> shared(const std::vector<std::vector<Remark>>& cases) {
  std::vector<SharedRemark> out;
  for (std::size_t c = 0; c < cases.size(); ++c)
    for (const Remark& remark : cases[c]) {
      const double achieved = remark.verdict.achieved;
      const auto alike = std::find_if(out.begin(), out.end(), [&](const SharedRemark& other) {
        return other.remark.record == remark.record && other.remark.words() == remark.words();
      });
      if (alike == out.end()) {
        out.push_back({remark, {c}, achieved, achieved});
        continue;
      }
      alike->cases.push_back(c);
      alike->least = std::min(alike->least, achieved);
      alike->greatest = std::max(alike->greatest, achieved);
    }
  std::stable_sort(out.begin(), out.end(), [](const SharedRemark& a, const SharedRemark& b) {
    return a.remark.record < b.remark.record;  // both point into the table
  });
  return out;
}

std::vector<Remark> remarks(const bike::Layout& layout) {
  const auto is_for = [&](const GuidanceRecord& r) {
    return layout.kind && std::find(r.kinds.begin(), r.kinds.end(), *layout.kind) != r.kinds.end();
  };
  const auto table = guidance_table();
  std::vector<Remark> out;
  for (const GuidanceRecord& r : table) {
    const bool replaced = std::any_of(table.begin(), table.end(),
                                      [&](const GuidanceRecord& o) { return o.topic == r.topic && is_for(o); });
    if (bike::has(layout, bike::record(r.curve).needs) && (is_for(r) || (r.kinds.empty() && !replaced)))
      out.push_back({&r, target_of(r, lowest_gear(layout.drivetrain)), {}});
  }
  std::vector<Target> targets;
  targets.reserve(out.size());
  for (const Remark& remark : out) targets.push_back(remark.target);
  const bike::Model model = bike::make_model(layout);
  const Packaging none;
  const Demands demands = Demands::without_tapes(model, targets, none);
  Assessor<double> assessor(demands);
  if (!assessor.march(layout.mechanism.points)) return {};
  assessor.curves();
  const Assessment assessment = assess(demands, assessor.outcome());
  for (std::size_t i = 0; i < out.size(); ++i) out[i].verdict = assessment.targets[i];
  return out;
}

}  // namespace trammel::objectives
