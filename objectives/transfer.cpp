#include "objectives/transfer.hpp"

#include <algorithm>

#include "bike/table.hpp"

namespace trammel::objectives {
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

}  // namespace

std::optional<Target> target_for(const Target& target, const bike::Layout& asked, bike::Layout& reference) {
  if (target.between) return std::nullopt;  // it has no cases to compare
  Target out = target;
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
    case bike::Needs::landing:
      if (!bike::has(reference, needs)) return std::nullopt;
      if (out.curve.spacers >= 0 && !bike::has(reference, bike::Needs::air)) return std::nullopt;
      return out;
    default:
      return bike::has(reference, needs) ? std::optional(out) : std::nullopt;
  }
}

}  // namespace trammel::objectives
