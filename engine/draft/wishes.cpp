#include "draft/wishes.hpp"

#include <algorithm>
#include <cmath>

#include "brief/scalar.hpp"

namespace trammel::draft {
namespace {

/// Most chain growth in the middle gear and most kickback in the lowest one, for each mm of travel.
constexpr double growth_share = 0.18, kickback_share = 0.2;
/// How far the travel may be off, as a share of it; 2 mm at least.
constexpr double travel_slack = 0.02, least_slack = 2.0;
/// What of the least progressivity is asked for where nothing but the swingarm works the shock, which cannot give much.
constexpr double direct_share = 0.4;

std::string number(double value, double step) {
  return brief::rounded_text(std::round(value / step) * step + 0.0);
}
std::string band(double lo, double hi, double step) {
  return "[" + number(lo, step) + ", " + number(hi, step) + "]";
}

/// One entry of the list: what it is, and why it is asked for.
std::string target(const std::string& what, const std::string& why) {
  return "  - { " + what + " }\n" + (why.empty() ? "" : "    # " + why + "\n");
}

}  // namespace

std::string travel_target(double travel) {
  const double slack = std::max(least_slack, travel_slack * travel);
  return "# Targets. Those with `must: true` are required, the others preferred: the nearer the better.\ntargets:\n" +
         target("name: travel, curve: travel, at: bottomed, band: " + band(travel - slack, travel + slack, 0.5) +
                    ", must: true",
                "");
}

std::string usual_targets(const UsualKind& kind, const Wished& wished) {
  const auto& [low, middle, high] = wished.gears;
  const Limits support{(wished.direct ? direct_share : 1.0) * kind.support.lo, kind.support.hi};
  std::string out = travel_target(wished.travel);
  if (!low.empty())
    out += target("name: climbing, curve: anti_squat, gear: " + low +
                      ", at: sag, band: " + band(kind.climbing.lo, kind.climbing.hi, 1.0) + ", must: true",
                  "under 100 % the rear sinks under hard pedalling, over it it rises");
  if (!middle.empty())
    out += target("name: chain, curve: chain_growth, gear: " + middle +
                      ", at: bottomed, ceiling: " + number(growth_share * wished.travel, 1.0) + ", must: true",
                  "the chain that the whole travel needs in a middle gear");
  if (wished.stroke)
    out += target("name: support, measure: progressivity, band: " + band(support.lo, support.hi, 0.01) + ", must: true",
                  "by how much the leverage falls from topped out to bottomed, as a share of where it starts");
  if (wished.stroke) {
    // A straight line whose mean is travel over stroke, falling by the middle of the band above.
    const double fall = 0.5 * (support.lo + support.hi);
    const double start = wished.travel / *wished.stroke / (1.0 - 0.5 * fall);
    out += target("name: leverage, curve: leverage, over: [0, 1], follow: [[0, " + number(start, 0.05) + "], [1, " +
                      number(start * (1.0 - fall), 0.05) + "]], tolerance: 0.15",
                  "an even fall, without a hump in between");
  }
  if (!low.empty())
    out += target("name: feet, curve: kickback, gear: " + low +
                      ", at: bottomed, ceiling: " + number(kickback_share * wished.travel, 1.0) + ", tolerance: 1.5",
                  "how far the chain turns the cranks back over the whole travel");
  out += target("name: braking, curve: anti_rise, at: sag, band: " + band(kind.braking.lo, kind.braking.hi, 1.0) +
                    ", tolerance: 4",
                "little pitches the rider forward, much makes the rear stiff under braking");
  out += target("name: axle path, curve: rearward, at: { fraction: 0.3 }, floor: " + number(kind.rearward, 0.5) +
                    ", tolerance: 1",
                "the wheel gives way to an edge rather than into it");
  return out;
}

}  // namespace trammel::draft
