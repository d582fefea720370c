#include "search/preflight.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "objectives/rules/table.hpp"
#include "search/score.hpp"

namespace trammel::search {
namespace {

/// Relative difference that counts as none: rounding, in figures that are differences of others.
constexpr double same = 1e-9;

/// What each demand and wish comes to: targets in the brief's order, then rules.
std::vector<double> figures(const objectives::Assessment& a) {
  std::vector<double> out;
  for (const objectives::Verdict& v : a.targets) out.push_back(v.achieved);
  for (const objectives::RuleVerdict& r : a.rules) out.push_back(r.achieved);
  return out;
}

std::string rule_name(const objectives::RuleVerdict& rule) {
  if (rule.rule == objectives::rule_number<objectives::rules::Boxes>) return "the box of " + rule.where;
  return "the rule '" + rule.name + "'";
}

}  // namespace

Probe probe(const Setup& setup, int wanted, int most) {
  const auto n = static_cast<std::size_t>(setup.design.size());
  std::vector<Scorer> scorers;
  scorers.reserve(static_cast<std::size_t>(setup.design.choices()));
  for (int choice = 0; choice < setup.design.choices(); ++choice) scorers.emplace_back(setup, choice);
  Probe out;
  std::vector<bool> variable_moves(n, false), figure_moves;
  std::vector<std::string> names;  // of what the brief itself demands; else empty
  std::vector<double> x(n), moved(n);
  const auto assembles = [](Scorer& scorer, const std::vector<double>& at) {
    return scorer.screen(at, {}, std::numeric_limits<double>::infinity()).assembles;
  };
  const auto all = [](const std::vector<bool>& moves) {
    return std::find(moves.begin(), moves.end(), false) == moves.end();
  };
  // Once everything has been seen to move there is nothing left to say.
  const auto settled = [&] { return !figure_moves.empty() && all(figure_moves) && all(variable_moves); };
  for (; out.samples < most && out.assembled < wanted && !settled(); ++out.samples) {
    Scorer& scorer = scorers[static_cast<std::size_t>(out.samples % setup.design.choices())];
    setup.sobol.point(static_cast<std::uint64_t>(out.samples), x);
    if (!assembles(scorer, x)) continue;
    ++out.assembled;
    const objectives::Assessment here = scorer.assessment(x);
    const std::vector<double> before = figures(here);
    if (figure_moves.empty()) {
      figure_moves.assign(before.size(), false);
      for (const objectives::Target& t : setup.brief.targets)
        names.push_back(t.origin == objectives::Origin::brief ? "'" + t.name + "'" : "");
      for (const objectives::RuleVerdict& rule : here.rules) {
        const auto demands =
            objectives::rule_table()[rule.rule].demands(setup.brief.packaging, setup.brief.layout.mechanism);
        names.push_back(rule.origin == objectives::Origin::brief && !demands.empty() ? rule_name(rule) : "");
      }
      for (std::size_t f = 0; f < names.size(); ++f) figure_moves[f] = names[f].empty();  // of those nothing is said
    }
    for (std::size_t i = 0; i < n; ++i) {
      moved = x;
      moved[i] = x[i] < 0.5 ? x[i] + 0.05 : x[i] - 0.05;
      if (!assembles(scorer, moved)) {
        variable_moves[i] = true;  // it decides whether the layout assembles at all
        continue;
      }
      const std::vector<double> after = figures(scorer.assessment(moved));
      for (std::size_t f = 0; f < before.size(); ++f) {
        if (std::abs(after[f] - before[f]) <= same * (1.0 + std::abs(before[f]))) continue;
        figure_moves[f] = variable_moves[i] = true;
      }
    }
  }
  const std::string tried = " (tried at " + std::to_string(out.assembled) + " layouts that assemble)";
  if (out.assembled == 0) {
    out.sentences.push_back("None of " + std::to_string(out.samples) +
                            " layouts spread over the ranges assembles through the whole stroke.");
    return out;
  }
  for (std::size_t f = 0; f < figure_moves.size(); ++f)
    if (!figure_moves[f] && !names[f].empty()) out.sentences.push_back("No variable moves " + names[f] + tried + ".");
  for (std::size_t i = 0; i < n; ++i)
    if (!variable_moves[i])
      out.sentences.push_back("The range of " + setup.design.variables()[i].name +
                              " has no effect on any target or rule" + tried + ".");
  return out;
}

}  // namespace trammel::search
