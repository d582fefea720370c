#include "objectives/rules/lengths.hpp"

#include <algorithm>
#include <limits>

#include "objectives/in_words.hpp"
#include "objectives/outcome.hpp"

namespace trammel::objectives::rules {
namespace {

/// What the rule allows; an absent end is infinite.
Interval allowed(const LengthRule& rule) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  return {rule.least.value_or(-infinity), rule.greatest.value_or(infinity)};
}

}  // namespace

void Lengths::judge(const Demands& demands, const Outcome<double>& outcome, std::size_t, std::size_t, RuleJudge& out) {
  for (std::size_t i = 0; i < demands.packaging.lengths.size(); ++i) {
    const LengthRule& rule = demands.packaging.lengths[i];
    const double length =
        norm(outcome.points[static_cast<std::size_t>(rule.to)] - outcome.points[static_cast<std::size_t>(rule.from)]);
    const std::string where = pair_name(demands.model.layout.mechanism, rule.from, rule.to);
    const Interval limits = allowed(rule);
    const double depth = std::min(record.depth, 0.5 * (limits.hi - limits.lo));
    const auto add = [&](const char* name, double demanded, double inside) {
      out.add({.item = i,
               .achieved = length,
               .demanded = demanded,
               .where = where,
               .inside = inside,
               .name = name,
               .depth = depth});
    };
    if (rule.least) add("length: at least", *rule.least, length - *rule.least);
    if (rule.greatest) add("length: at most", *rule.greatest, *rule.greatest - length);
  }
}

std::vector<RuleDemand> Lengths::demands(const Packaging& packaging, const linkage::Mechanism& mechanism) {
  std::vector<RuleDemand> out;
  for (std::size_t i = 0; i < packaging.lengths.size(); ++i) {
    const LengthRule& rule = packaging.lengths[i];
    out.push_back({.item = i,
                   .name = "length " + point_name(mechanism, rule.from) + " – " + point_name(mechanism, rule.to),
                   .limits = in_words(allowed(rule), record.unit)});
  }
  return out;
}

void Lengths::drop(Packaging& packaging, std::size_t item) {
  packaging.lengths[item].least.reset();
  packaging.lengths[item].greatest.reset();
}

void Lengths::draw_in(Packaging& packaging, const ErrorReserve& reserve) {
  for (LengthRule& rule : packaging.lengths) {
    Interval limits = allowed(rule);
    objectives::draw_in(limits, reserve.of_distance());
    if (rule.least) rule.least = limits.lo;
    if (rule.greatest) rule.greatest = limits.hi;
  }
}

void Lengths::prove(const Packaging& packaging, const linkage::Mechanism& mechanism, const PointRanges& ranges,
                    std::vector<std::string>& out) {
  for (const LengthRule& rule : packaging.lengths) {
    const Interval range = ranges.distance(rule.from, rule.to), limits = allowed(rule);
    if (!(range.hi < limits.lo || limits.hi < range.lo)) continue;
    out.push_back("The length from " + point_name(mechanism, rule.from) + " to " + point_name(mechanism, rule.to) +
                  " cannot be kept: it is " + in_words(range, "mm") + " within the ranges, and " +
                  in_words(limits, "mm") + " is demanded.");
  }
}

}  // namespace trammel::objectives::rules
