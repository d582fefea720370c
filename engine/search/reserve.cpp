#include "search/reserve.hpp"

#include <algorithm>
#include <cmath>

#include "objectives/rules/table.hpp"
#include "search/built.hpp"
#include "search/chance.hpp"

namespace trammel::search {
namespace {

void draw_in(objectives::Allowed& allowed, double by) {
  if (std::isfinite(allowed.lo) && std::isfinite(allowed.hi))
    by = std::min(by, objectives::most_reserve * allowed.depth);
  allowed.lo += by;
  allowed.hi -= by;
}

objectives::Packaging drawn_in(const objectives::Packaging& packaging, const brief::Tolerances& tolerances, double z,
                               double room) {
  objectives::Packaging out = packaging;
  objectives::ErrorReserve reserve{z, {}};
  // Not less than the floor of the must margin: all limits on distances have one depth.
  const double least = z > 0.0 ? room * objectives::rules::Boxes::record.depth / z : 0.0;
  for (const bike::Point& p : tolerances.points)
    reserve.points.push_back({std::max(least, tolerances.deviation(p.x)), std::max(least, tolerances.deviation(p.y))});
  for (const objectives::RuleFunctions& rule : objectives::rule_table()) rule.draw_in(out, reserve);
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
  reserve->packaging = drawn_in(brief.packaging, tolerances, z, brief.search.room);
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
        objectives::Allowed& allowed = reserve->demands[k].allowed[t][i];
        const double by = std::isfinite(variance) ? z * std::sqrt(variance) : 0.0;
        draw_in(allowed, std::max(by, brief.search.room * allowed.depth));
      }
    }
  }
  return reserve;
}

}  // namespace trammel::search
