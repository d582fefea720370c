#include "objectives/merge.hpp"

#include <algorithm>

namespace trammel::objectives {
namespace {

bool worse(const RuleVerdict& a, const RuleVerdict& b) {
  return a.met != b.met ? !a.met : a.margin < b.margin;
}

void add(const CaseAssessment& one, std::vector<bool>& seen, Assessment& out) {
  for (std::size_t i = 0; i < one.numbers.size(); ++i) {
    const std::size_t t = one.numbers[i];
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

}  // namespace

Assessment merged(const std::vector<CaseAssessment>& cases, const std::vector<Target>& targets) {
  Assessment out;
  out.margin = 1.0;
  out.targets.resize(targets.size());
  std::vector<bool> seen(targets.size(), false);
  for (const CaseAssessment& one : cases) add(one, seen, out);
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
