#include "objectives/places.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::objectives {
namespace {

Station canonical(Station s) {
  if (s.kind == Station::Kind::fraction && s.amount == 0.0) return {Station::Kind::topped_out, 0.0};
  if (s.kind == Station::Kind::fraction && s.amount == 1.0) return {Station::Kind::bottomed, 0.0};
  return s;
}

std::size_t place_of(std::vector<Station>& stations, const Station& wanted) {
  const Station s = canonical(wanted);
  const auto found = std::find_if(stations.begin(), stations.end(),
                                  [&](const Station& o) { return o.kind == s.kind && o.amount == s.amount; });
  if (found != stations.end()) return static_cast<std::size_t>(found - stations.begin());
  stations.push_back(s);
  return stations.size() - 1;
}

}  // namespace

Places plan_places(const std::vector<Target>& targets, std::size_t gears) {
  Places places;
  places.wanted = bike::Wanted::nothing(gears);
  for (const Target& target : targets) {
    TargetPlaces of;
    if (target.over) {
      const double width = target.over->to - target.over->from;
      const int n = std::max(1, static_cast<int>(std::lround(width * places_per_travel)));
      for (int i = 0; i <= n; ++i) {
        const double fraction = i == n ? target.over->to : target.over->from + width * i / n;
        of.fractions.push_back(fraction);
        of.at.push_back(place_of(places.stations, {Station::Kind::fraction, fraction}));
      }
    } else {
      of.at.push_back(place_of(places.stations, target.at));
      if (target.measure) of.at.push_back(place_of(places.stations, target.to));
    }
    if (!target.measure) places.wanted.add(target.curve);
    places.targets.push_back(std::move(of));
  }
  return places;
}

}  // namespace trammel::objectives
