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
  order.reserve(sorted.size());
  for (const auto& [curves, k] : sorted) order.push_back(k);
  return order;
}

TargetPlaces places_of(const Target& target, std::vector<Station>& stations) {
  TargetPlaces of;
  if (!target.over) {
    of.at.push_back(place_of(stations, target.at));
    const auto where = target.measure ? record(*target.measure).where : Where::any;
    if (where == Where::between || where == Where::fixed) of.at.push_back(place_of(stations, target.to));
    return of;
  }
  const double width = target.over->to - target.over->from;
  const auto share = [&](int per_travel) { return std::max(1, static_cast<int>(std::lround(width * per_travel))); };
  const int per_travel =
      target.origin == Origin::sound && !target.measure ? sound_places_per_travel : places_per_travel;
  const int n = target.measure ? 2 * share(per_travel / 2) : share(per_travel);
  for (int i = 0; i <= n; ++i) {
    const double fraction = i == n ? target.over->to : target.over->from + width * i / n;
    of.fractions.push_back(fraction);
    of.at.push_back(place_of(stations, {Station::Kind::fraction, fraction}));
  }
  return of;
}

int number_of(std::vector<bike::CurveKey>& curves, const bike::CurveKey& key) {
  auto found = std::find(curves.begin(), curves.end(), key);
  if (found == curves.end()) found = curves.insert(found, key);
  return static_cast<int>(found - curves.begin());
}

}  // namespace

Places plan_places(const std::vector<Target>& targets, std::size_t gears) {
  Places places;
  for (const Target& target : targets) places.targets.push_back(places_of(target, places.stations));
  places.looks.resize(places.stations.size());
  places.wanted.resize(places.stations.size(), bike::Wanted::nothing(gears));
  for (std::size_t t = 0; t < targets.size(); ++t) {
    const std::vector<std::size_t>& at = places.targets[t].at;
    const Gathering& gathering = places.gatherings.emplace_back(make_gathering(targets[t], at.size()));
    std::size_t index = 0;
    for (const bike::CurveKey& key : curves_of(targets[t])) {
      const int curve = number_of(places.curves, key);
      for (const std::size_t place : at) {
        places.looks[place].push_back({t, index++, curve});
        places.wanted[place].add(key);
      }
    }
    if (!gathering.extent) continue;
    const int travel = number_of(places.curves, {bike::Curve::travel});
    for (const std::size_t place : {at.front(), at.back()}) places.looks[place].push_back({t, index++, travel});
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
