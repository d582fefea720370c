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

/// The pair that comes out worst of those from `first` on; `what` names the one, the pivot the other.
template <class LeastOf>
void judge_worst(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                 LeastOf least, double wanted, const std::string& what, RuleJudge& out) {
  if (first == last) return;
  const auto& all = outcome.fit.distance2;
  const auto spare = [&](std::size_t k) { return std::sqrt(all[k].value) - least(demands, k); };
  std::size_t worst = first;
  for (std::size_t k = first + 1; k < last; ++k)
    if (spare(k) < spare(worst)) worst = k;
  const bike::Separation& pair = demands.apart[worst].of;
  const linkage::Mechanism& mechanism = demands.model.layout.mechanism;
  // A pair's other part: what the tyre's axle is kept from, or the pivot that the shock is.
  std::string other = "shock";
  if (what != "tyre")
    other = point_name(mechanism, pair.point);
  else if (pair.from == pair.to)
    other = point_name(mechanism, pair.from);
  out.add({.achieved = wanted + spare(worst),
           .demanded = wanted,
           .where = what + " – " + other,
           .inside = spare(worst),
           .station = all[worst].station,
           .origin = Origin::sound});
}

std::vector<RuleDemand> demand_of(const RuleRecord& record, const std::optional<double>& least) {
  if (!least) return {};
  return {{.name = std::string(record.name),
           .limits = in_words({*least, std::numeric_limits<double>::infinity()}, record.unit),
           .origin = Origin::sound}};
}

}  // namespace

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

void TyreClearance::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                          RuleJudge& out) {
  if (demands.packaging.tyre_clearance)
    judge_worst(demands, outcome, first, last, least, *demands.packaging.tyre_clearance, "tyre", out);
}

std::vector<RuleDemand> TyreClearance::demands(const Packaging& packaging, const linkage::Mechanism&) {
  return demand_of(record, packaging.tyre_clearance);
}

void TyreClearance::loosen(Packaging& packaging, std::size_t, double amount) {
  *packaging.tyre_clearance -= amount;
}

void TyreClearance::drop(Packaging& packaging, std::size_t) {
  packaging.tyre_clearance.reset();
}

void TyreClearance::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  if (packaging.tyre_clearance) *packaging.tyre_clearance += reserve.of_distance();
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

void ShockClearance::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t first, std::size_t last,
                           RuleJudge& out) {
  if (demands.packaging.shock_clearance)
    judge_worst(demands, outcome, first, last, least, *demands.packaging.shock_clearance, "shock", out);
}

std::vector<RuleDemand> ShockClearance::demands(const Packaging& packaging, const linkage::Mechanism&) {
  return demand_of(record, packaging.shock_clearance);
}

void ShockClearance::loosen(Packaging& packaging, std::size_t, double amount) {
  *packaging.shock_clearance -= amount;
}

void ShockClearance::drop(Packaging& packaging, std::size_t) {
  packaging.shock_clearance.reset();
}

void ShockClearance::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  if (packaging.shock_clearance) *packaging.shock_clearance += reserve.of_distance();
}

}  // namespace trammel::objectives::rules
