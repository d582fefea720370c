// The places in the travel at which targets need their curves: each computed once, whoever asks.
#pragma once

#include <vector>

#include "bike/sweep.hpp"
#include "objectives/target.hpp"

namespace trammel::objectives {

/// What one target looks at.
struct TargetPlaces {
  std::vector<std::size_t> at;    ///< indices into Places::stations; a measure has its two stations here
  std::vector<double> fractions;  ///< over a stretch: the fraction of travel of each
};

struct Places {
  std::vector<Station> stations;      ///< distinct
  std::vector<TargetPlaces> targets;  ///< in the brief's order
  bike::Wanted wanted;                ///< curves that any target needs
};

/// Places over a whole travel; a stretch gets its share, both ends included.
inline constexpr int places_per_travel = 20;

Places plan_places(const std::vector<Target>& targets, std::size_t gears);

/// The driving coordinate of a station in a march that has been run.
template <class T>
T driving_coordinate(const bike::Model& model, bike::Sweep<T>& sweep, const Station& station) {
  const bike::Sag& sag = model.layout.sag;
  switch (station.kind) {
    case Station::Kind::topped_out:
      return T(0.0);
    case Station::Kind::bottomed:
      return T(model.range());
    case Station::Kind::travel:
      return sweep.driving_at(T(station.amount));
    case Station::Kind::fraction:
      return sweep.driving_at(sweep.whole_travel() * station.amount);
    case Station::Kind::sag:
      break;
  }
  if (sag.of == bike::SagOf::shock) return T(model.range() * sag.fraction);
  return sweep.driving_at(sweep.whole_travel() * sag.fraction);
}

}  // namespace trammel::objectives
