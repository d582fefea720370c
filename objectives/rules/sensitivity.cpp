#include "objectives/rules/sensitivity.hpp"

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void Sensitivity::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t,
                        RuleJudge& out) {
  if (!demands.packaging.sensitivity || !outcome.sensitivity) return;
  const Sensed& worst = *outcome.sensitivity;
  const double limit = *demands.packaging.sensitivity, moved = worst.tolerances_per_mm * off;
  std::string where = "no required target moves";
  if (moved > 0.0)
    where = demands.targets[worst.target].name + " by " +
            point_name(demands.model.layout.mechanism, static_cast<int>(worst.coordinate / 2)) +
            (worst.coordinate % 2 == 0 ? ".x" : ".y");
  out.add({.achieved = moved,
           .demanded = limit,
           .where = std::move(where),
           .inside = limit - moved,
           .name = "sensitivity: tolerances per half a millimetre",
           .origin = Origin::sound});
}

std::vector<RuleDemand> Sensitivity::demands(const Packaging& packaging, const linkage::Mechanism&) {
  if (!packaging.sensitivity) return {};
  return {{.name = std::string(record.name),
           .limits = "at most " + number_text(*packaging.sensitivity) + " tolerances per half a millimetre",
           .origin = Origin::sound}};
}

void Sensitivity::drop(Packaging& packaging, std::size_t) {
  packaging.sensitivity.reset();
}

}  // namespace trammel::objectives::rules
