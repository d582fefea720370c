#include "search/departure.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::search {
namespace {

using objectives::Station;

/// Wheel travel at a station of a layout that has `whole` mm of it.
double travel_at(const Station& station, const bike::Layout& layout, double whole) {
  switch (station.kind) {
    case Station::Kind::topped_out:
      return 0.0;
    case Station::Kind::bottomed:
      return whole;
    case Station::Kind::travel:
      return station.amount;
    case Station::Kind::fraction:
      return station.amount * whole;
    case Station::Kind::sag:
      break;
  }
  return bike::sag_travel(layout);
}

/// The curve's value at a travel, straight between the table's stations.
double value_at(const std::vector<std::optional<double>>& x, const std::vector<std::optional<double>>& y, double at) {
  std::size_t i = 1;
  while (i + 1 < x.size() && *x[i] < at) ++i;
  const double share = std::clamp((at - *x[i - 1]) / std::max(*x[i] - *x[i - 1], 1e-9), 0.0, 1.0);
  return *y[i - 1] + (*y[i] - *y[i - 1]) * share;
}

}  // namespace

std::optional<Departure> departure_of(const objectives::Target& target, const bike::Layout& layout,
                                      const bike::CurveTable& curves) {
  if (!target.measure || target.between) return std::nullopt;
  const objectives::Where where = objectives::record(*target.measure).where;
  if (where != objectives::Where::between && where != objectives::Where::fixed) return std::nullopt;
  if (bike::about_rider(bike::record(target.curve.curve).needs)) return std::nullopt;  // made of more than its curve
  const bike::Column *travel = curves.find({bike::Curve::travel}), *curve = curves.find(target.curve);
  const auto known = [](const std::optional<double>& v) { return v.has_value(); };
  if (travel == nullptr || curve == nullptr || curve->values.size() < 3 ||
      !std::all_of(curve->values.begin(), curve->values.end(), known))
    return std::nullopt;
  const double whole = *travel->values.back();
  const auto [from, to] = std::minmax({travel_at(target.at, layout, whole), travel_at(target.to, layout, whole)});
  const double first = value_at(travel->values, curve->values, from),
               last = value_at(travel->values, curve->values, to);
  Departure out;
  for (std::size_t i = 0; i < curve->values.size(); ++i) {
    const double z = *travel->values[i];
    if (z <= from || z >= to) continue;
    const double off = std::abs(*curve->values[i] - first - (last - first) * (z - from) / (to - from));
    if (off > out.amount) out = {off, z};
  }
  return out;
}

}  // namespace trammel::search
