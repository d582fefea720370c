#include <algorithm>
#include <cmath>

#include "objectives/assessor.hpp"

namespace trammel::objectives {
namespace {

Verdict verdict_on(const Assessor<double>& a, std::size_t t) {
  const Target& target = a.targets()[t];
  Verdict verdict;
  verdict.margin = 2.0;
  for (std::size_t i = 0; i < a.values(t).size(); ++i) {
    const Allowed allowed = a.allowed(t, i);
    const double y = a.values(t)[i], inside = margin(allowed, y);
    if (inside >= verdict.margin) continue;
    verdict.margin = inside;
    verdict.achieved = y;
    verdict.at_travel = a.travels(t)[i];
    verdict.violation = std::max({0.0, allowed.lo - y, y - allowed.hi});
    if (target.wish.kind == Wish::Kind::follow)
      verdict.wished = path_value(target.wish, a.places().targets[t].fractions[i]);
  }
  verdict.met = verdict.violation <= 0.0;
  return verdict;
}

std::string pair_name(const linkage::Mechanism& m, const PivotPair& pair) {
  return m.point_names[static_cast<std::size_t>(pair.first)] + "–" +
         m.point_names[static_cast<std::size_t>(pair.second)];
}

class Rules {
 public:
  Rules(const Assessor<double>& a, std::vector<RuleVerdict>& out) : a_(a), out_(out) {}

  void add_all() {
    transmission();
    pivot_distance();
    boxes();
    if (!a_.model().has_shock()) return;
    const double slope = a_.fit().slope;
    add("wheel rises with the shock", "", slope, least_slope, "leverage ratio", a_.fit().slope_at,
        slope >= least_slope);
    const double length = a_.fit().shock_length, wanted = a_.model().layout.shock->length;
    add("shock eye to eye", "mm", length, wanted, "topped out", 0, std::abs(length - wanted) <= shock_length_tolerance);
  }

 private:
  void transmission() {
    const auto& margins = a_.fit().transmission;
    const auto worst = std::min_element(margins.begin(), margins.end());
    if (worst == margins.end()) return;
    const auto j = static_cast<std::size_t>(worst - margins.begin());
    const double angle = math::degrees(std::asin(std::sqrt(std::clamp(*worst, 0.0, 1.0))));
    const double least = a_.packaging().least_transmission_angle;
    add("least transmission angle", "°", angle, least, a_.model().program.joints[j].name, a_.fit().transmission_at[j],
        *worst > 0.0 && angle >= least);
  }

  void pivot_distance() {
    if (!a_.packaging().least_pivot_distance || a_.pairs().empty()) return;
    const auto& d2 = a_.fit().distance2;
    const auto k = static_cast<std::size_t>(std::min_element(d2.begin(), d2.end()) - d2.begin());
    const double distance = std::sqrt(d2[k]), least = *a_.packaging().least_pivot_distance;
    add("least pivot distance", "mm", distance, least, pair_name(a_.model().layout.mechanism, a_.pairs()[k]),
        a_.fit().distance_at[k], distance >= least);
  }

  void boxes() {
    for (const Box& box : a_.packaging().boxes) {
      const auto p = static_cast<std::size_t>(box.point);
      const std::string& name = a_.model().layout.mechanism.point_names[p];
      if (box.x) box_side(name + ".x", *box.x, a_.points()[p].x);
      if (box.y) box_side(name + ".y", *box.y, a_.points()[p].y);
    }
  }

  void box_side(const std::string& name, const Interval& i, double x) {
    // The demand printed is the end that is nearer to being broken.
    const bool low = x - i.lo < i.hi - x;
    add(std::string("box: ") + (low ? "at least" : "at most"), "mm", x, low ? i.lo : i.hi, name, 0,
        x >= i.lo && x <= i.hi);
  }

  void add(std::string name, std::string unit, double achieved, double demanded, std::string where, std::size_t station,
           bool met) {
    out_.push_back({std::move(name), std::move(unit), achieved, demanded, std::move(where),
                    a_.sweep().stations()[station].travel, met});
  }

  const Assessor<double>& a_;
  std::vector<RuleVerdict>& out_;
};

}  // namespace

Assessment assess(const Assessor<double>& a) {
  Assessment out;
  out.margin = 1.0;
  for (std::size_t t = 0; t < a.targets().size(); ++t) {
    const Target& target = a.targets()[t];
    out.targets.push_back(verdict_on(a, t));
    out.margin = std::min(out.margin, out.targets.back().margin);
    out.score += a.mean_square(t) * target.weight;
    if (!target.must) continue;
    ++out.musts;
    if (out.targets.back().met) ++out.musts_met;
  }
  Rules(a, out.rules).add_all();
  for (const RuleVerdict& rule : out.rules) {
    ++out.musts;
    if (rule.met) ++out.musts_met;
  }
  return out;
}

std::string assembly_failure(const Assessor<double>& a) {
  const auto& margins = a.fit().transmission;
  const auto j = static_cast<std::size_t>(std::min_element(margins.begin(), margins.end()) - margins.begin());
  return "does not assemble at " + a.model().program.joints[j].name;
}

}  // namespace trammel::objectives
