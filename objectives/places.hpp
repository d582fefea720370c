// The places in the travel at which targets need their curves: each computed once, whoever asks.
#pragma once

#include <vector>

#include "bike/station.hpp"
#include "bike/stroke_samples.hpp"
#include "objectives/gathering.hpp"

namespace trammel::objectives {

/// What one target looks at.
struct TargetPlaces {
  std::vector<std::size_t> at;    ///< indices into Places::stations, in the order of the travel or from, to
  std::vector<double> fractions;  ///< over a stretch: the fraction of travel of each
};

/// Who looks at a place, and at what: the `index`-th number that a target sees (see Gathering), the `curve`-th of
/// Places::curves.
struct Look {
  std::size_t target, index;
  int curve;
};

struct Places {
  std::vector<Station> stations;         ///< distinct
  std::vector<std::vector<Look>> looks;  ///< who looks at each
  std::vector<TargetPlaces> targets;     ///< in the brief's order
  std::vector<Gathering> gatherings;     ///< likewise
  std::vector<bike::CurveKey> curves;    ///< that any target needs, each once
  std::vector<bike::Wanted> wanted;      ///< what is looked at in each place
  std::vector<std::size_t> alike;        ///< all places, those at which the same is looked at side by side
};

/// Intervals of a whole travel; a stretch gets its share, a measure's an even number.
inline constexpr int places_per_travel = 20;
/// The same of curves that only shall not run wild: every second place of those.
inline constexpr int sound_places_per_travel = 10;

Places plan_places(const std::vector<Target>& targets, std::size_t gears);

/// Where a station is in a model's stroke.
bike::Locus locus_of(const Station& station, const bike::Model& model);

}  // namespace trammel::objectives
