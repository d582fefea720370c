#include "objectives/merge.hpp"

#include <algorithm>

namespace trammel::objectives {
namespace {

bool worse(const RuleVerdict& a, const RuleVerdict& b) {
  return a.met != b.met ? !a.met : a.margin < b.margin;
}

void add(const CaseAssessment& one, const std::vector<Target>& targets, std::vector<bool>& seen, Assessment& out) {
  for (std::size_t i = 0; i < one.numbers.size(); ++i) {
    const std::size_t t = one.numbers[i];
    if (targets[t].between) continue;
    const Verdict& verdict = one.assessment.targets[i];
    if (seen[t] && !(verdict.margin < out.targets[t].margin)) continue;
    seen[t] = true;
    out.targets[t] = verdict;
    out.targets[t].in = one.name;
  }
  for (std::size_t r = 0; r < one.assessment.rules.size(); ++r) {
    const RuleVerdict& rule = one.assessment.rules[r];
    if (r == out.rules.size())
      out.rules.push_back(rule);
    else if (worse(rule, out.rules[r]))
      out.rules[r] = rule;
    else
      continue;
    out.rules[r].in = one.name;
  }
  out.score += one.assessment.score;
  out.margin = std::min(out.margin, one.assessment.margin);
  out.must_margin = std::min(out.must_margin, one.assessment.must_margin);
  out.wish_margin = std::min(out.wish_margin, one.assessment.wish_margin);
}

/// Of a target that the case watches.
double achieved_in(const CaseAssessment& one, std::size_t target) {
  const auto found = std::find(one.numbers.begin(), one.numbers.end(), target);
  return one.assessment.targets[static_cast<std::size_t>(found - one.numbers.begin())].achieved;
}

void add(const Comparison& one, const Target& target, const std::vector<CaseAssessment>& cases, std::vector<bool>& seen,
         Assessment& out) {
  std::vector<double> values;
  for (const std::size_t k : one.cases) values.push_back(achieved_in(cases[k], one.target));
  const Allowed allowed = allowed_at(target, 0.0);
  Verdict verdict;
  verdict.achieved = difference(one, values).value;
  verdict.margin = margin(allowed, verdict.achieved);
  verdict.violation = std::max({0.0, allowed.lo - verdict.achieved, verdict.achieved - allowed.hi});
  verdict.met = verdict.violation <= 0.0;
  verdict.in = one.name;
  out.score += math::square(residual(allowed, verdict.achieved, target.tolerance, 0.0)) * target.weight /
               static_cast<double>(one.of);
  out.margin = std::min(out.margin, verdict.margin);
  double& least = target.must ? out.must_margin : out.wish_margin;
  least = std::min(least, verdict.margin);
  if (seen[one.target] && !(verdict.margin < out.targets[one.target].margin)) return;
  seen[one.target] = true;
  out.targets[one.target] = verdict;
}

}  // namespace

Assessment merged(const std::vector<CaseAssessment>& cases, const std::vector<Target>& targets,
                  const std::vector<Comparison>& comparisons) {
  Assessment out;
  out.margin = 1.0;
  out.targets.resize(targets.size());
  std::vector<bool> seen(targets.size(), false);
  for (const CaseAssessment& one : cases) add(one, targets, seen, out);
  for (const Comparison& one : comparisons) add(one, targets[one.target], cases, seen, out);
  const auto count = [&](bool met) {
    ++out.musts;
    if (met) ++out.musts_met;
  };
  for (std::size_t t = 0; t < targets.size(); ++t)
    if (targets[t].must) count(out.targets[t].met);
  for (const RuleVerdict& rule : out.rules) count(rule.met);
  return out;
}

}  // namespace trammel::objectives
