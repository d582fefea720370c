#include "search/reserve.hpp"

#include <algorithm>
#include <cmath>

#include "search/built.hpp"
#include "search/chance.hpp"

namespace trammel::search {
namespace {

/// Most of a band's depth that a reserve may take: something must be left to aim at.
constexpr double most_of_depth = 0.9;

void draw_in(objectives::Allowed& allowed, double by) {
  if (std::isfinite(allowed.lo) && std::isfinite(allowed.hi)) by = std::min(by, most_of_depth * allowed.depth);
  allowed.lo += by;
  allowed.hi -= by;
}

void draw_in(std::optional<objectives::Interval>& side, double by) {
  if (!side) return;
  by = std::min(by, most_of_depth * 0.5 * (side->hi - side->lo));
  side->lo += by;
  side->hi -= by;
}

objectives::Packaging drawn_in(const objectives::Packaging& packaging, const brief::Tolerances& tolerances, double z) {
  objectives::Packaging out = packaging;
  double greatest = 0.0;
  for (const bike::Point& p : tolerances.points)
    greatest = std::max({greatest, tolerances.deviation(p.x), tolerances.deviation(p.y)});
  for (objectives::Box& box : out.boxes) {
    const bike::Point& p = tolerances.points[static_cast<std::size_t>(box.point)];
    draw_in(box.x, z * tolerances.deviation(p.x));
    draw_in(box.y, z * tolerances.deviation(p.y));
  }
  for (objectives::KeepIn& rule : out.keep_in) {
    const bike::Point& p = tolerances.points[static_cast<std::size_t>(rule.point)];
    rule.least += z * std::max(tolerances.deviation(p.x), tolerances.deviation(p.y));
  }
  // The distance of two points that are off independently; of bodies as if each were off like a point.
  const double apart = z * std::sqrt(2.0) * greatest;
  if (out.least_pivot_distance) *out.least_pivot_distance += apart;
  for (objectives::Clearance& rule : out.clearances) rule.least += apart;
  for (objectives::LengthRule& rule : out.lengths) {
    const bool both = rule.least && rule.greatest;
    const double by = both ? std::min(apart, most_of_depth * 0.5 * (*rule.greatest - *rule.least)) : apart;
    if (rule.least) *rule.least += by;
    if (rule.greatest) *rule.greatest -= by;
  }
  return out;
}

}  // namespace

double deviations_for(double yield, int musts) {
  return normal_quantile(1.0 - (1.0 - yield) / std::max(musts, 1));
}

std::unique_ptr<Reserve> reserve_at(const Setup& setup, int choice, std::span<const double> x) {
  const brief::Brief& brief = setup.brief;
  const brief::Tolerances& tolerances = *brief.tolerances;
  const auto musts = std::count_if(brief.targets.begin(), brief.targets.end(), [](const auto& t) { return t.must; });
  const double z = deviations_for(*brief.search.yield, static_cast<int>(musts));
  const bike::Layout layout = setup.design.layout(x, choice);
  std::vector<int> addresses;
  std::vector<double> deviations;
  for (const auto& [address, coordinate] : coordinates(layout, tolerances)) {
    addresses.push_back(address);
    deviations.push_back(coordinate.deviation);
  }
  auto reserve = std::make_unique<Reserve>();
  reserve->packaging = drawn_in(brief.packaging, tolerances, z);
  for (std::size_t k = 0; k < setup.cases.size(); ++k) {
    const CaseSetup& one = setup.cases[k];
    const std::size_t at = static_cast<std::size_t>(choice) * setup.cases.size() + k;
    reserve->demands.emplace_back(setup.demands[at], reserve->packaging);
    BuiltCase built(layout, one.which, one.targets, brief.packaging, setup.instruction_set);
    const auto slopes = built.slopes(addresses);
    for (std::size_t t = 0; t < one.targets.size(); ++t) {
      if (!one.targets[t].must) continue;
      for (std::size_t i = 0; i < slopes[t].size(); ++i) {
        double variance = 0.0;
        for (std::size_t c = 0; c < deviations.size(); ++c) variance += math::square(slopes[t][i][c] * deviations[c]);
        if (std::isfinite(variance)) draw_in(reserve->demands[k].allowed[t][i], z * std::sqrt(variance));
      }
    }
  }
  return reserve;
}

}  // namespace trammel::search
