#include "objectives/rules/pivot_distance.hpp"

#include <algorithm>
#include <cmath>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

std::vector<std::pair<int, int>> pivot_pairs(const linkage::Mechanism& mechanism) {
  const std::vector<int> pivots = linkage::pivots(mechanism);
  const auto drawn = [&](int p) { return mechanism.points[static_cast<std::size_t>(p)]; };
  std::vector<std::pair<int, int>> pairs;
  for (std::size_t i = 0; i < pivots.size(); ++i)
    for (std::size_t j = i + 1; j < pivots.size(); ++j)
      if (norm(drawn(pivots[j]) - drawn(pivots[i])) > PivotDistance::one_axis) pairs.emplace_back(pivots[i], pivots[j]);
  return pairs;
}

std::vector<Watched> PivotDistance::watches(const bike::Model& model, const Packaging& packaging) {
  if (!packaging.least_pivot_distance) return {};
  std::vector<Watched> out;
  const linkage::Mechanism& mechanism = model.layout.mechanism;
  for (const auto& [a, b] : pivot_pairs(mechanism)) out.push_back({{a, b, b}});
  // An idler turns on a bearing, too, unless it shares a pivot's axis.
  if (!model.layout.drivetrain.idler) return out;
  const int idler = model.layout.drivetrain.idler->point;
  const auto drawn = [&](int p) { return mechanism.points[static_cast<std::size_t>(p)]; };
  for (const int p : linkage::pivots(mechanism))
    if (p != idler && norm(drawn(p) - drawn(idler)) > one_axis) out.push_back({{idler, p, p}});
  return out;
}

void PivotDistance::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                          RuleJudge& out) {
  if (first == last) return;
  const auto nearest = worst_of(outcome.fit.distance2, first, last);
  const auto k = static_cast<std::size_t>(nearest - outcome.fit.distance2.begin());
  const double distance = std::sqrt(nearest->value), least = *demands.packaging.least_pivot_distance;
  const bike::Separation& pair = demands.apart[k].of;
  out.add({.achieved = distance,
           .demanded = least,
           .where = pair_name(demands.model.layout.mechanism, pair.point, pair.from),
           .inside = distance - least,
           .station = nearest->station,
           .origin = demands.packaging.pivot_distance_origin});
}

std::vector<RuleDemand> PivotDistance::demands(const Packaging& packaging, const linkage::Mechanism&) {
  if (!packaging.least_pivot_distance) return {};
  const double least = *packaging.least_pivot_distance;
  return {{.name = std::string(record.name),
           .most = least,
           .limits = in_words({least, std::numeric_limits<double>::infinity()}, record.unit),
           .origin = packaging.pivot_distance_origin}};
}

void PivotDistance::drop(Packaging& packaging, std::size_t) {
  packaging.least_pivot_distance.reset();
}

void PivotDistance::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  if (packaging.least_pivot_distance) *packaging.least_pivot_distance += reserve.of_distance();
}

void PivotDistance::prove(const Packaging& packaging, const linkage::Mechanism& mechanism, const PointRanges& ranges,
                          std::vector<std::string>& out) {
  if (!packaging.least_pivot_distance) return;
  for (const auto& [a, b] : pivot_pairs(mechanism)) {
    const double most = ranges.distance(a, b).hi;
    if (most >= *packaging.least_pivot_distance) continue;
    out.push_back("The least pivot distance cannot be kept: " + point_name(mechanism, a) + " and " +
                  point_name(mechanism, b) + " are at most " + with_unit(most, "mm") +
                  " apart within the ranges, and " + with_unit(*packaging.least_pivot_distance, "mm") +
                  " is demanded.");
  }
}

}  // namespace trammel::objectives::rules
