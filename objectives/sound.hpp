// Demands that hold unless a brief says otherwise: a search finds whatever nobody forbade, and what nobody would build,
// hardly anybody forbids. They are ordinary musts and rules, common practice, no source.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "bike/layout.hpp"
#include "objectives/packaging.hpp"
#include "objectives/target.hpp"

namespace trammel::objectives {

enum class Sound {
  leverage_range,
  leverage_rise,
  leverage_ends,
  anti_squat_range,
  anti_rise_range,
  chain_slack,
  axle_path,
  transmission_angle,
  pivot_distance,
  tyre_clearance,
  shock_clearance,
  sensitivity,
};
inline constexpr int sound_count = static_cast<int>(Sound::sensitivity) + 1;

struct SoundRecord {
  Sound sound;
  std::string_view key;      ///< its name in a brief, under `sound`
  std::string_view title;    ///< its name in a report
  std::string_view unit;     ///< mm, °, % or empty for a ratio
  bool range;                ///< two limits; else one, which is `limits.hi`
  Interval limits;           ///< unless the brief gives others
  Interval allowed;          ///< what a brief may give
  double scale;              ///< of a residual, and how far inside its limit the margin is 1; of those that are targets
  std::string_view meaning;  ///< one sentence for the docs and the schema
};

/// All records; `sound_table()[i].sound` has the value i.
std::span<const SoundRecord> sound_table();

/// The limits of each; absent = nothing is demanded.
using SoundLimits = std::array<std::optional<Interval>, sound_count>;
/// Those that hold by default.
SoundLimits sound_limits();

/// The demands that a layout can have, as musts and rules: those on leverage need a shock, those on the chain gears.
void add_sound(const bike::Layout& layout, const SoundLimits& limits, std::vector<Target>& targets,
               Packaging& packaging);

}  // namespace trammel::objectives
