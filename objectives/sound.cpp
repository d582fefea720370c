#include "objectives/sound.hpp"

#include <algorithm>
#include <numeric>

namespace trammel::objectives {
namespace {

using bike::Curve;

class Adding {
 public:
  Adding(const SoundLimits& limits, std::vector<Target>& targets) : limits_(limits), targets_(targets) {}

  /// A demand on a curve, or on a measure of it, over the whole stroke, in the gears given.
  void add(Sound sound, Curve curve, std::optional<Measure> measure, Wish::Kind kind, const std::vector<int>& gears) {
    const std::optional<Interval>& limits = limits_[static_cast<std::size_t>(sound)];
    if (!limits) return;
    const SoundRecord& record = sound_table()[static_cast<std::size_t>(sound)];
    Target target;
    target.name = "sound: " + std::string(record.title);
    target.curve = {curve, gears.empty() ? -1 : gears.front()};
    target.measure = measure;
    target.over = Stretch{};
    target.wish = {kind, limits->lo, limits->hi, {}};
    target.tolerance = record.scale;
    target.must = true;
    target.gears = gears;
    target.origin = Origin::sound;
    targets_.push_back(std::move(target));
  }

 private:
  const SoundLimits& limits_;
  std::vector<Target>& targets_;
};

/// Whether a body stays where it is on the frame.
bool on_frame(const bike::Body& body, const linkage::Mechanism& mechanism) {
  using enum bike::BodyKind;
  if (body.kind != circle && body.kind != tube && body.kind != polygon) return false;
  const std::vector<int>& still = mechanism.members[static_cast<std::size_t>(mechanism.frame)].points;
  return std::all_of(body.spots.begin(), body.spots.end(), [&](const bike::Spot& spot) {
    return spot.point < 0 ? spot.member == mechanism.frame
                          : std::find(still.begin(), still.end(), spot.point) != still.end();
  });
}

/// The rear tyre's distance from bodies on the frame, but for those of which the brief itself says how far.
void keep_tyre_clear(const linkage::Mechanism& mechanism, double least, Packaging& packaging) {
  // Of a brief that is refused a clearance may name a body that there is none of.
  const auto is_tyre = [&](int body) {
    return body >= 0 && packaging.bodies[static_cast<std::size_t>(body)].kind == bike::BodyKind::tyre;
  };
  Clearance clearance;
  clearance.least = least;
  clearance.origin = Origin::sound;
  const auto said = [&](int body) {
    return std::any_of(packaging.clearances.begin(), packaging.clearances.end(), [&](const Clearance& c) {
      const auto among = [&](auto wanted) { return std::any_of(c.to.begin(), c.to.end(), wanted); };
      return (is_tyre(c.of) && among([&](int to) { return to == body; })) || (c.of == body && among(is_tyre));
    });
  };
  const auto count = static_cast<int>(packaging.bodies.size());
  for (int body = 0; body < count; ++body)
    if (on_frame(packaging.bodies[static_cast<std::size_t>(body)], mechanism) && !said(body))
      clearance.to.push_back(body);
  if (clearance.to.empty()) return;
  int tyre = 0;
  while (tyre < count && !is_tyre(tyre)) ++tyre;
  if (tyre == count) {
    bike::Body& added = packaging.bodies.emplace_back();
    added.name = "rear tyre";
    added.kind = bike::BodyKind::tyre;
  }
  clearance.of = tyre;
  packaging.clearances.push_back(std::move(clearance));
}

}  // namespace

std::span<const SoundRecord> sound_table() {
  static constexpr std::array<SoundRecord, sound_count> table{{
      {Sound::leverage_range,
       "leverage_range",
       "leverage",
       "",
       true,
       {1.2, 4.0},
       {0.2, 20.0},
       0.2,
       "Leverage ratio over the whole stroke: below it the shock is a stop, above it beyond what shocks are made for."},
      {Sound::leverage_rise,
       "leverage_rise",
       "rises of leverage",
       "",
       false,
       {0.0, 0.08},
       {0.0, 10.0},
       0.05,
       "All rises of the leverage ratio along the stroke together: where it rises the wheel gets softer as it goes "
       "in."},
      {Sound::leverage_ends,
       "leverage_ends",
       "leverage at the ends",
       "",
       false,
       {0.0, 6.0},
       {1.0, 1000.0},
       2.0,
       "Slope of the leverage ratio at either end of the stroke, as a multiple of its mean slope in between, or of "
       "0.005 "
       "per mm where that is more: hooks at the ends fool what looks at the ends only."},
      {Sound::anti_squat_range,
       "anti_squat_range",
       "anti-squat",
       "%",
       true,
       {-50.0, 250.0},
       {-2000.0, 2000.0},
       20.0,
       "Anti-squat over the whole stroke, in every gear listed: no chain line through a wild instant centre."},
      {Sound::anti_rise_range,
       "anti_rise_range",
       "anti-rise",
       "%",
       true,
       {-50.0, 250.0},
       {-2000.0, 2000.0},
       20.0,
       "Anti-rise over the whole stroke."},
      {Sound::chain_slack,
       "chain_slack",
       "chain slack",
       "mm",
       false,
       {0.0, 8.0},
       {0.0, 200.0},
       2.0,
       "How much less chain the driving run may need anywhere than topped out, in every gear listed."},
      {Sound::axle_path,
       "axle_path",
       "axle path",
       "mm",
       false,
       {0.0, 60.0},
       {1.0, 500.0},
       5.0,
       "How far the rear axle may move rearward or forward of where it is topped out."},
      {Sound::transmission_angle,
       "transmission_angle",
       "transmission angle",
       "°",
       false,
       {0.0, 15.0},
       {0.1, 89.0},
       0.0,
       "Least transmission angle at any joint over the stroke: no dead point within what is built. Gives way to "
       "packaging.least_transmission_angle."},
      {Sound::pivot_distance,
       "pivot_distance",
       "pivot distance",
       "mm",
       false,
       {0.0, 24.0},
       {0.0, 500.0},
       0.0,
       "Least distance of any two pivots that do not share an axis, over the stroke: two bearings with housings. Gives "
       "way to packaging.least_pivot_distance."},
      {Sound::tyre_clearance,
       "tyre_clearance",
       "tyre clearance",
       "mm",
       false,
       {0.0, 4.0},
       {-50.0, 200.0},
       0.0,
       "Least distance of the rear tyre from the frame's pivots (22 mm round), the shock's body (45 mm round) and "
       "bodies "
       "on the frame, over the stroke: stays straddle a tyre, these do not."},
      {Sound::shock_clearance,
       "shock_clearance",
       "shock clearance",
       "mm",
       false,
       {0.0, 2.0},
       {-50.0, 200.0},
       0.0,
       "Least distance of the shock's body from the frame's pivots other than its own, over the stroke."},
      {Sound::sensitivity,
       "sensitivity",
       "sensitivity",
       "",
       false,
       {0.0, 3.0},
       {0.1, 1000.0},
       0.0,
       "By how many of its tolerances any required target may move when one coordinate of any linkage point is half a "
       "millimetre "
       "off: what nobody can build to its drawing. It is judged and ranked by, and not steered by."},
  }};
  return table;
}

SoundLimits sound_limits() {
  SoundLimits out;
  for (const SoundRecord& record : sound_table()) out[static_cast<std::size_t>(record.sound)] = record.limits;
  return out;
}

void add_sound(const bike::Layout& layout, const SoundLimits& limits, std::vector<Target>& targets,
               Packaging& packaging) {
  SoundLimits own = limits;
  const auto of = [&](Sound sound) -> std::optional<Interval>& { return own[static_cast<std::size_t>(sound)]; };
  if (auto& slack = of(Sound::chain_slack)) slack = Interval{-slack->hi, -slack->hi};
  if (auto& path = of(Sound::axle_path)) path = Interval{-path->hi, path->hi};
  Adding adding(own, targets);
  if (layout.shock) {
    adding.add(Sound::leverage_range, Curve::leverage, {}, Wish::Kind::band, {});
    adding.add(Sound::leverage_rise, Curve::leverage, Measure::total_rise, Wish::Kind::ceiling, {});
    adding.add(Sound::leverage_ends, Curve::leverage, Measure::end_slope, Wish::Kind::ceiling, {});
  }
  std::vector<int> gears(layout.drivetrain.gears.size());
  std::iota(gears.begin(), gears.end(), 0);
  if (!gears.empty()) adding.add(Sound::anti_squat_range, Curve::anti_squat, {}, Wish::Kind::band, gears);
  adding.add(Sound::anti_rise_range, Curve::anti_rise, {}, Wish::Kind::band, {});
  if (!gears.empty()) adding.add(Sound::chain_slack, Curve::chain_growth, {}, Wish::Kind::floor, gears);
  adding.add(Sound::axle_path, Curve::rearward, {}, Wish::Kind::band, {});
  if (const auto& angle = of(Sound::transmission_angle)) {
    packaging.least_transmission_angle = angle->hi;
    packaging.transmission_angle_origin = Origin::sound;
  }
  if (const auto& distance = of(Sound::pivot_distance)) {
    packaging.least_pivot_distance = distance->hi;
    packaging.pivot_distance_origin = Origin::sound;
  }
  if (const auto& tyre = of(Sound::tyre_clearance)) {
    packaging.tyre_clearance = tyre->hi;
    keep_tyre_clear(layout.mechanism, tyre->hi, packaging);
  }
  if (const auto& shock = of(Sound::shock_clearance)) packaging.shock_clearance = shock->hi;
  if (const auto& most = of(Sound::sensitivity)) packaging.sensitivity = most->hi;
}

}  // namespace trammel::objectives
