// The verdicts of several cases (settings, sizes) as one: the worst of each.
#pragma once

#include <string>
#include <vector>

#include "objectives/comparison.hpp"
#include "objectives/verdict.hpp"

namespace trammel::objectives {

/// Of a brief's targets those that hold in one case, and how they came out there.
struct CaseAssessment {
  std::string name;
  std::vector<std::size_t> numbers;  ///< of its targets in the brief
  Assessment assessment;             ///< in the order of `numbers`
};

/// Each target's and rule's worst verdict, with the case's name; the score is the sum over the cases, the margin the
/// least. Every target holds in a case at least, and all cases have the same rules. Targets that compare cases are
/// judged by `comparisons`; each has one at least.
Assessment merged(const std::vector<CaseAssessment>& cases, const std::vector<Target>& targets,
                  const std::vector<Comparison>& comparisons);

}  // namespace trammel::objectives
