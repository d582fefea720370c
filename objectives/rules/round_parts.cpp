#include "objectives/rules/round_parts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {
namespace {

/// Pivots on the frame, and the shock's eyes there.
std::vector<int> frame_pivots(const linkage::Mechanism& mechanism) {
  const std::vector<int>& still = mechanism.members[static_cast<std::size_t>(mechanism.frame)].points;
  std::vector<int> out;
  for (const int p : linkage::pivots(mechanism))
    if (std::find(still.begin(), still.end(), p) != still.end()) out.push_back(p);
  return out;
}

bike::Separation shock_from_point(const linkage::Mechanism& mechanism, int point) {
  return {point, mechanism.drive.a, mechanism.drive.b, shock_from, shock_to};
}

}  // namespace

template <class Rule, std::optional<double> Packaging::*clearance>
void KeptClear<Rule, clearance>::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first,
                                       std::size_t last, RuleJudge& out) {
  if (!(demands.packaging.*clearance) || first == last) return;
  const auto& all = outcome.fit.distance2;
  const auto spare = [&](std::size_t k) { return std::sqrt(all[k].value) - least(demands, k); };
  std::size_t worst = first;
  for (std::size_t k = first + 1; k < last; ++k)
    if (spare(k) < spare(worst)) worst = k;
  const double wanted = *(demands.packaging.*clearance);
  out.add(
      {.achieved = wanted + spare(worst),
       .demanded = wanted,
       .where = std::string(Rule::what) + " – " + Rule::other(demands.model.layout.mechanism, demands.apart[worst].of),
       .inside = spare(worst),
       .station = all[worst].station,
       .origin = Origin::sound});
}

template <class Rule, std::optional<double> Packaging::*clearance>
std::vector<RuleDemand> KeptClear<Rule, clearance>::demands(const Packaging& packaging, const linkage::Mechanism&) {
  if (!(packaging.*clearance)) return {};
  return {{.name = std::string(Rule::record.name),
           .limits = in_words({*(packaging.*clearance), std::numeric_limits<double>::infinity()}, Rule::record.unit),
           .origin = Origin::sound}};
}

template struct KeptClear<TyreClearance, &Packaging::tyre_clearance>;
template struct KeptClear<ShockClearance, &Packaging::shock_clearance>;

std::vector<Watched> TyreClearance::watches(const bike::Model& model, const Packaging& packaging) {
  if (!packaging.tyre_clearance) return {};
  const linkage::Mechanism& mechanism = model.layout.mechanism;
  const int axle = model.layout.axle.point;
  std::vector<Watched> out;
  for (const int p : frame_pivots(mechanism))
    if (p != axle) out.push_back({{axle, p, p}, 0.5 * pivot_diameter});
  if (model.has_shock() && mechanism.drive.a != axle && mechanism.drive.b != axle)
    out.push_back({shock_from_point(mechanism, axle), 0.5 * shock_diameter});
  return out;
}

std::vector<Watched> ShockClearance::watches(const bike::Model& model, const Packaging& packaging) {
  if (!packaging.shock_clearance || !model.has_shock()) return {};
  const linkage::Mechanism& mechanism = model.layout.mechanism;
  std::vector<Watched> out;
  for (const int p : frame_pivots(mechanism))
    if (p != mechanism.drive.a && p != mechanism.drive.b)
      out.push_back({shock_from_point(mechanism, p), 0.5 * (shock_diameter + pivot_diameter)});
  return out;
}

}  // namespace trammel::objectives::rules
