// trammel check: targets and rules on the layout as drawn, and what its variables do to them.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "app/check_parts.hpp"
#include "app/print.hpp"
#include "app/text.hpp"
#include "report/digits.hpp"
#include "report/inches.hpp"
#include "report/wording.hpp"

namespace trammel::app {
namespace {

using objectives::Target;
using report::shown;
using Align = TextTable::Align;

const char* mark(bool met) {
  return met ? "✓" : "✗";
}

std::string weight_of(const Target& target) {
  if (target.must) return "required";
  return target.weight == 1.0 ? "preferred" : fmt::format("preferred ×{:g}", target.weight);
}

/// "at 45.1 mm, 32x50, in low-M".
std::string where(const Target& target, const objectives::Verdict& verdict, const bike::Layout& layout) {
  std::string out = has_place(target) ? "at " + shown(verdict.at_travel, 1) + " mm" : report::place(target);
  if (verdict.gear >= 0) out += ", " + layout.drivetrain.gears[static_cast<std::size_t>(verdict.gear)].name();
  return verdict.in.empty() ? out : out + ", in " + verdict.in;
}

/// Of a path, its value at the place that decides.
std::string wished(const Target& target, const objectives::Verdict& verdict) {
  using Kind = objectives::Wish::Kind;
  const Kind kind = target.wish.kind;
  if (!target.wish.along_path()) return report::wish(target);
  const int decimals = report::decimals_for(target.tolerance);
  if (kind != Kind::follow)
    return (kind == Kind::under ? "at most " : "at least ") +
           report::quantity(verdict.wished, decimals, unit_of(target));
  return shown(verdict.wished, decimals) + " ± " + report::quantity(target.tolerance, decimals, unit_of(target));
}

using objectives::Origin;

/// The targets of one origin that are required, or those that are not.
TextTable targets_table(const brief::Brief& brief, const objectives::Assessment& judged, Origin origin, bool required) {
  TextTable table({Align::left, Align::right, Align::left, Align::right, Align::left});
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const Target& target = brief.targets[t];
    if (target.origin != origin || target.must != required) continue;
    if (table.empty()) table.add({"  target", "as drawn", "asked for", "margin", "wheel travel"});
    const objectives::Verdict& verdict = judged.targets[t];
    const int decimals = report::decimals_for(target.tolerance);
    const std::string weight = required || target.weight == 1.0 ? "" : fmt::format(" ×{:g}", target.weight);
    table.add({fmt::format("{} {}{}", mark(verdict.met), target.name, weight),
               report::quantity(verdict.achieved, decimals, unit_of(target)), wished(target, verdict),
               shown(verdict.margin, 2), where(target, verdict, brief.layout)});
  }
  return table;
}

TextTable rules_table(const objectives::Assessment& judged, Origin origin) {
  TextTable table({Align::left, Align::right, Align::right, Align::right, Align::left});
  for (const objectives::RuleVerdict& rule : judged.rules) {
    if (rule.origin != origin) continue;
    if (table.empty()) table.add({"  rule", "as drawn", "demanded", "margin", "wheel travel"});
    table.add({fmt::format("{} {}, {}", mark(rule.met), rule.name, rule.where),
               report::quantity(rule.achieved, 2, rule.unit), report::quantity(rule.demanded, 2, rule.unit),
               shown(rule.margin, 2),
               "at " + shown(rule.at_travel, 1) + " mm" + (rule.in.empty() ? "" : ", in " + rule.in)});
  }
  return table;
}

/// The variables that move a target most, those that do by its tolerance; at most four.
std::string movers(const Target& target, const search::Reach& reach, const search::Design& design) {
  constexpr std::size_t most = 4;
  std::vector<std::size_t> order;
  for (std::size_t v = 0; v < reach.effects.size(); ++v)
    if (std::abs(reach.effects[v]) >= target.tolerance) order.push_back(v);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::abs(reach.effects[a]) > std::abs(reach.effects[b]);
  });
  std::string out;
  for (std::size_t i = 0; i < std::min(most, order.size()); ++i) {
    const double effect = reach.effects[order[i]];
    out += fmt::format("{}{} {}{}", i == 0 ? "" : ", ", design.variables()[order[i]].name, effect > 0.0 ? "+" : "",
                       shown(effect, report::decimals_for(target.tolerance)));
  }
  if (order.size() > most) out += fmt::format(" and {} more", order.size() - most);
  return out.empty() ? "nothing by its tolerance" : out;
}

/// Whether some value from `least` to `most` is as wished.
bool within_reach(const Target& target, const search::Reach& reach) {
  using Kind = objectives::Wish::Kind;
  const auto& w = target.wish;
  if (w.along_path()) return true;
  const double slack = w.kind == Kind::value ? target.tolerance : 0.0;
  const bool high_enough = w.kind == Kind::ceiling || reach.most >= w.lo - slack;
  const bool low_enough = w.kind == Kind::floor || reach.least <= w.hi + slack;
  return high_enough && low_enough;
}

std::string listed(const std::vector<std::string>& names, const char* last) {
  std::string out;
  for (std::size_t i = 0; i < names.size(); ++i)
    out.append(i == 0 ? "" : i + 1 == names.size() ? last : ", ").append(names[i]);
  return out;
}

/// "eye and mount hardly move climbing and chain", targets that the same points leave alone together.
void print_idle(const brief::Brief& brief, const search::Influence& influence) {
  std::vector<std::pair<std::vector<std::string>, std::vector<std::string>>> groups;
  for (std::size_t t = 0; t < influence.idle.size(); ++t) {
    if (influence.idle[t].empty() || !influence.targets[t].moved || brief.targets[t].origin != Origin::brief) continue;
    auto same = std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return g.first == influence.idle[t]; });
    if (same == groups.end()) same = groups.insert(same, {influence.idle[t], {}});
    same->second.push_back("'" + brief.targets[t].name + "'");
  }
  for (const auto& [points, targets] : groups)
    print_out("{}", folded(listed(points, " and ") + " hardly move" + (points.size() == 1 ? "s " : " ") +
                               listed(targets, " and ") + ": by less than the target's tolerance, over the whole range",
                           4, 6));
}

/// Targets that stay as they are, or outside of their wish.
void print_out_of_reach(const brief::Brief& brief, const search::Influence& influence) {
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const Target& target = brief.targets[t];
    if (target.origin != Origin::brief) continue;
    const search::Reach& reach = influence.targets[t];
    const int decimals = report::decimals_for(target.tolerance);
    const std::string unit = unit_of(target);
    std::string out;
    if (!reach.moved)
      out = "no variable moves '" + target.name + "' by its tolerance of " +
            report::quantity(target.tolerance, decimals, unit);
    if (!within_reach(target, reach))
      out += (out.empty() ? "'" + target.name + "'" : std::string(" and it")) + " is not brought to " +
             report::wish(target) + " by all variables together: " + shown(reach.least, decimals) + " to " +
             report::quantity(reach.most, decimals, unit) + " is what they reach, to first order";
    if (!out.empty()) print_out("{}", folded(out, 4, 6));
  }
}

/// Where the drawing and the ranges do not agree.
void print_outside(const search::Setup& setup, const search::DrawnDesign& drawn) {
  // Half a hundredth of the range: rounding of a drawing is no disagreement.
  constexpr double rounding = 0.005;
  for (std::size_t v = 0; v < drawn.x.size(); ++v) {
    if (drawn.x[v] >= -rounding && drawn.x[v] <= 1.0 + rounding) continue;
    const search::Variable& variable = setup.design.variables()[v];
    print_out("{}", folded(fmt::format("note: {} is drawn at {}, outside of its range {:g} to {:g} {}", variable.name,
                                       shown(variable.at(drawn.x[v]), 2), variable.lo, variable.hi, variable.unit),
                           4, 6));
  }
  constexpr double slack = 0.5;  // as for the drawn length of a shock
  if (drawn.off <= slack) return;
  print_out("{}",
            folded(fmt::format("note: the ranges hold no layout quite as drawn: {} comes {} mm from where it is "
                               "drawn, by its tie or for a shock of another length",
                               setup.brief.layout.mechanism.point_names[static_cast<std::size_t>(drawn.off_point)],
                               shown(drawn.off, 1)),
                   4, 6));
}

}  // namespace

void list_targets(const brief::Brief& brief) {
  TextTable table({Align::left, Align::left, Align::left});
  for (const Target& t : brief.targets)
    if (t.origin == Origin::brief)
      table.add(
          {t.name, weight_of(t), report::wish(t) + ", " + report::place(t) + (t.in.empty() ? "" : ", in " + t.in)});
  if (brief.inches_too) table.reword(report::with_inches);
  print_out("  targets:\n{}", table.text(4));
}

void describe_verdicts(const brief::Brief& brief, const search::Drawn& drawn) {
  if (!drawn.judged) {
    if (!brief.targets.empty()) list_targets(brief);
    return;
  }
  const objectives::Assessment& judged = *drawn.judged;
  const auto print = [&](const char* heading, TextTable table) {
    if (brief.inches_too) table.reword(report::with_inches);
    if (!table.empty()) print_out("{}{}", heading, table.text(4));
  };
  print("  required, as the drawn layout meets it (margin: 1 well inside, 0 on the limit, below 0 missed):\n",
        targets_table(brief, judged, Origin::brief, true));
  print("  preferred (×: weight, where it is not 1):\n", targets_table(brief, judged, Origin::brief, false));
  print("  rules:\n", rules_table(judged, Origin::brief));
  print("  sound by default, unless the brief says otherwise:\n", targets_table(brief, judged, Origin::sound, true));
  print("  rules that are sound by default:\n", rules_table(judged, Origin::sound));
  std::string out = fmt::format("the drawn layout meets {} of {} requirements, the least margin of which is {}",
                                judged.musts_met, judged.musts, shown(judged.must_margin, 2));
  if (std::any_of(brief.targets.begin(), brief.targets.end(), [](const Target& t) { return !t.must; }))
    out += "; that of the preferences is " + shown(judged.wish_margin, 2);
  print_out("{}", folded(out, 2, 4));
}

void describe_influence(const search::Setup& setup, const search::Influence& influence) {
  const brief::Brief& brief = setup.brief;
  print_out("{}", folded("what moves what: by how much a variable, taken through its whole range, changes a target, to "
                         "first order from exact slopes at the drawn layout:",
                         2, 4));
  print_outside(setup, influence.drawn);
  TextTable table({Align::left, Align::right, Align::left});
  table.add({"target", "as drawn", "moved most by"});
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const Target& target = brief.targets[t];
    if (target.origin != Origin::brief) continue;
    const search::Reach& reach = influence.targets[t];
    const int decimals = report::decimals_for(target.tolerance);
    table.add(
        {target.name, report::quantity(reach.value, decimals, unit_of(target)), movers(target, reach, setup.design)});
  }
  print_out("{}", table.text(4));
  print_idle(brief, influence);
  print_out_of_reach(brief, influence);
}

}  // namespace trammel::app
