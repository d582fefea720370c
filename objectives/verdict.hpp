// What a layout achieves of what was wished.
#pragma once

#include <string>
#include <vector>

#include "objectives/origin.hpp"

namespace trammel::objectives {

/// How one target came out. `achieved` is the value at the target's station, or over a stretch the value that comes
/// nearest to breaking the wish (breaks it most); `at_travel` is where.
struct Verdict {
  double achieved = 0.0;   ///< in the curve's unit
  double at_travel = 0.0;  ///< wheel travel, mm
  double wished = 0.0;     ///< along a path only: its value there
  double violation = 0.0;  ///< how far outside, in the curve's unit; 0 when met
  double margin = 0.0;     ///< distance inside: 1 = middle of a band or a tolerance inside a limit, 0 = on the edge,
                           ///< negative = outside, in the same measure
  bool met = false;
  std::string in = {};  ///< the case that comes out worst, where there are several
  int gear = -1;        ///< the gear that does, of a target on several
};

/// A packaging rule or feasibility condition.
struct RuleVerdict {
  std::string name;  ///< e.g. "least transmission angle"
  std::string unit;
  double achieved = 0.0;
  double demanded = 0.0;
  std::string where;       ///< joint, pair of points, …
  double at_travel = 0.0;  ///< mm
  bool met = false;
  std::string in = {};  ///< the case that comes out worst, where there are several
  /// Distance inside: 1 = as far inside as the rule's depth (its record), 0 = on the limit, negative = outside.
  double margin = 0.0;
  std::size_t rule = 0;  ///< its number in the table of rules
  std::size_t item = 0;  ///< which of that rule's demands
  Origin origin = Origin::brief;
};

struct Assessment {
  std::vector<Verdict> targets;  ///< in the brief's order
  std::vector<RuleVerdict> rules;
  int musts = 0;  ///< must targets and rules
  int musts_met = 0;
  double score = 0.0;        ///< Σ weight·residual² over the weighted targets; 0 = every wish met
  double margin = 0.0;       ///< least margin over all targets of the brief, at most 1
  double must_margin = 1.0;  ///< least margin over musts and rules, at most 1: what a workshop has to spare
  double wish_margin = 1.0;  ///< least margin over the other targets, at most 1
  bool feasible() const { return musts_met == musts; }
};

/// Adds a rule's verdict, and counts it.
inline void add(const RuleVerdict& rule, Assessment& to) {
  to.rules.push_back(rule);
  ++to.musts;
  if (rule.met) ++to.musts_met;
  if (rule.margin < to.must_margin) to.must_margin = rule.margin;
}

}  // namespace trammel::objectives
