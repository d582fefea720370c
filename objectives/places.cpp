#include "objectives/places.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

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

/// The places by how many curves are looked at, and by which.
std::vector<std::size_t> alike(const Places& places) {
  std::vector<std::pair<std::set<int>, std::size_t>> sorted;
  for (std::size_t k = 0; k < places.looks.size(); ++k) {
    std::set<int> curves;
    for (const Look& look : places.looks[k]) curves.insert(look.curve);
    sorted.emplace_back(std::move(curves), k);
  }
  std::sort(sorted.begin(), sorted.end(),
            [](const auto& a, const auto& b) { return std::tuple(a.first.size(), a) < std::tuple(b.first.size(), b); });
  std::vector<std::size_t> order;
  for (const auto& [curves, k] : sorted) order.push_back(k);
  return order;
}

}  // namespace

Places plan_places(const std::vector<Target>& targets, std::size_t gears) {
  Places places;
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
    places.targets.push_back(std::move(of));
  }
  places.looks.resize(places.stations.size());
  places.wanted.resize(places.stations.size(), bike::Wanted::nothing(gears));
  for (std::size_t t = 0; t < targets.size(); ++t) {
    const bike::CurveKey key = targets[t].measure ? bike::CurveKey{bike::Curve::leverage} : targets[t].curve;
    auto found = std::find(places.curves.begin(), places.curves.end(), key);
    if (found == places.curves.end()) found = places.curves.insert(found, key);
    const int curve = static_cast<int>(found - places.curves.begin());
    for (std::size_t i = 0; i < places.targets[t].at.size(); ++i) {
      const std::size_t place = places.targets[t].at[i];
      places.looks[place].push_back({t, i, curve});
      places.wanted[place].add(key);
    }
  }
  places.alike = alike(places);
  return places;
}

bike::Locus locus_of(const Station& station, const bike::Model& model) {
  const bike::Sag& sag = model.layout.sag;
  switch (station.kind) {
    case Station::Kind::topped_out:
      return {true, 0.0, 0.0};
    case Station::Kind::bottomed:
      return {true, 0.0, model.range()};
    case Station::Kind::travel:
      return {false, 0.0, station.amount};
    case Station::Kind::fraction:
      return {false, station.amount, 0.0};
    case Station::Kind::sag:
      break;
  }
  if (sag.of == bike::SagOf::shock) return {true, 0.0, model.range() * sag.fraction};
  return {false, sag.fraction, 0.0};
}

}  // namespace trammel::objectives
