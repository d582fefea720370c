#include <algorithm>
#include <cmath>

#include "objectives/assessor.hpp"

namespace trammel::objectives {
namespace {

/// The place that decides the i-th judged value; the first where there is no one.
std::size_t place_of(const Demands& d, const Outcome<double>& o, std::size_t t, std::size_t i) {
  const Gathering& g = d.places.gatherings[t];
  if (g.kind == Reduction::none || g.kind == Reduction::path) return i % g.places;
  if (!has_place(d.targets[t])) return 0;
  const auto first = o.seen[t].begin() + static_cast<std::ptrdiff_t>(i * g.places);
  const auto found = std::find(first, first + static_cast<std::ptrdiff_t>(g.places), o.values[t][i]);
  return static_cast<std::size_t>(found - first) % g.places;
}

/// The gear of the i-th judged value of a target on several.
int gear_of(const Demands& d, std::size_t t, std::size_t i) {
  const Gathering& g = d.places.gatherings[t];
  const std::vector<int>& gears = d.targets[t].gears;
  if (gears.empty() || g.kind == Reduction::spread) return -1;
  return gears[g.kind == Reduction::none ? i / g.places : i];
}

Verdict verdict_on(const Demands& d, const Outcome<double>& o, std::size_t t) {
  const Target& target = d.targets[t];
  Verdict verdict;
  verdict.margin = 2.0;
  for (std::size_t i = 0; i < o.values[t].size(); ++i) {
    const Allowed& allowed = d.allowed[t][i];
    const double y = o.values[t][i], inside = margin(allowed, y);
    if (inside >= verdict.margin) continue;
    verdict.margin = inside;
    verdict.achieved = y;
    verdict.at_travel = o.travels[t][place_of(d, o, t, i)];
    verdict.gear = gear_of(d, t, i);
    verdict.violation = std::max({0.0, allowed.lo - y, y - allowed.hi});
    if (target.wish.along_path())
      verdict.wished = path_value(target.wish, d.places.targets[t].fractions[i % d.places.gatherings[t].places]);
  }
  verdict.met = verdict.violation <= 0.0;
  return verdict;
}

/// Mean of the squared residuals of a target over its places, without limit or inset.
double mean_square(const Demands& d, const Outcome<double>& o, std::size_t t) {
  double sum = 0.0;
  for (std::size_t i = 0; i < o.values[t].size(); ++i)
    sum += math::square(residual(d.allowed[t][i], o.values[t][i], d.targets[t].tolerance, 0.0));
  return sum / static_cast<double>(o.values[t].size());
}

}  // namespace

Assessment assess(const Demands& d, const Outcome<double>& o) {
  Assessment out;
  out.margin = 1.0;
  for (std::size_t t = 0; t < d.targets.size(); ++t) {
    const Target& target = d.targets[t];
    out.targets.push_back(verdict_on(d, o, t));
    const Verdict& verdict = out.targets.back();
    if (target.origin == Origin::brief) out.margin = std::min(out.margin, verdict.margin);
    double& least = target.must ? out.must_margin : out.wish_margin;
    least = std::min(least, verdict.margin);
    out.score += mean_square(d, o, t) * target.weight;
    if (!target.must) continue;
    ++out.musts;
    if (verdict.met) ++out.musts_met;
  }
  RuleJudge judge(o, out.rules);
  for (std::size_t r = 0; r < rule_count; ++r) {
    const RuleFunctions& rule = rule_table()[r];
    judge.begin(r, *rule.record);
    rule.judge(d, o, d.apart_from[r], d.apart_from[r + 1], judge);
  }
  for (const RuleVerdict& rule : out.rules) {
    ++out.musts;
    if (rule.met) ++out.musts_met;
    out.must_margin = std::min(out.must_margin, rule.margin);
  }
  return out;
}

std::string assembly_failure(const bike::Model& model, std::size_t joint) {
  return "does not assemble at " + model.joint_name(joint);
}

}  // namespace trammel::objectives
