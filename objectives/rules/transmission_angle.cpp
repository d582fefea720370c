#include "objectives/rules/transmission_angle.hpp"

#include <algorithm>
#include <cmath>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {

void TransmissionAngle::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t,
                              RuleJudge& out) {
  const auto& all = outcome.fit.transmission;
  const auto& joints = demands.model.program.joints;
  if (joints.empty()) return;
  const auto worst = worst_of(all, 0, joints.size());
  // The sine of an angle below 0 is one of a joint that does not assemble.
  const double angle = math::degrees(std::asin(std::sqrt(std::clamp(worst->value, 0.0, 1.0))));
  const double least = demands.packaging.least_transmission_angle;
  out.add({.achieved = angle,
           .demanded = least,
           .where = joints[static_cast<std::size_t>(worst - all.begin())].name,
           .inside = angle - least,
           .station = worst->station,
           .origin = demands.packaging.transmission_angle_origin});
}

std::vector<RuleDemand> TransmissionAngle::demands(const Packaging& packaging, const linkage::Mechanism&) {
  const double least = packaging.least_transmission_angle;
  return {{.name = std::string(record.name),
           .most = least,
           .limits = in_words({least, std::numeric_limits<double>::infinity()}, record.unit),
           .origin = packaging.transmission_angle_origin}};
}

void TransmissionAngle::drop(Packaging& packaging, std::size_t) {
  packaging.least_transmission_angle = nothing;
}

}  // namespace trammel::objectives::rules
