#include "report/tolerance_tables.hpp"

#include <algorithm>
#include <cmath>

#include "report/csv.hpp"
#include "report/digits.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using objectives::Target;
using search::ToleranceSheet;

constexpr std::size_t most_effects = 10;

std::string percent(double share) {
  return shown(100.0 * share, 1);
}

/// A share of the frames in per cent, with its interval.
std::string in_words(const search::Share& share) {
  return percent(share.share()) + " % (" + percent(share.lo) + " to " + percent(share.hi) + " %)";
}

/// An empty cell where there is no number.
std::string csv_number(double x) {
  return std::isfinite(x) ? exact(x) : "";
}

/// One digit more than a value is shown with: a spread is smaller than what it is the spread of.
int decimals_of_spread(const Target& target) {
  return decimals_for(target.tolerance) + 1;
}

Html target_rows(const ToleranceSheet& tolerance, const std::vector<Target>& targets) {
  std::vector<std::vector<Html>> rows;
  for (std::size_t t = 0; t < targets.size(); ++t) {
    const Target& target = targets[t];
    const search::TargetSpread& spread = tolerance.targets[t];
    const std::string unit = unit_of(target);
    const int decimals = decimals_for(target.tolerance);
    Html name = text(target.name);
    if (target.must) name += Html(" ") + element("span", {{"class", "must"}}, text("required"));
    rows.push_back({head_cell(name), cell(wish(target)), number_cell(quantity(spread.nominal, decimals, unit)),
                    number_cell(quantity(spread.mean, decimals, unit)),
                    number_cell(shown(spread.deviation, decimals_of_spread(target))),
                    number_cell(shown(spread.first_order, decimals_of_spread(target))),
                    number_cell(shown(spread.low, decimals) + " to " + quantity(spread.high, decimals, unit)),
                    number_cell(in_words(spread.met))});
  }
  return table("",
               {"Target", "Asked for", "As drawn", "Mean", "Standard deviation", "To first order", "5 to 95 %",
                "Frames that meet it"},
               rows);
}

Html rule_rows(const ToleranceSheet& tolerance) {
  std::vector<std::vector<Html>> rows;
  for (const search::RuleShare& rule : tolerance.rules)
    if (rule.met.kept < rule.met.of) rows.push_back({head_cell(text(rule.name)), number_cell(in_words(rule.met))});
  if (rows.empty()) return element("p", "Every frame keeps the rules of packaging and feasibility.");
  return table("Rules that some frames break", {"Rule", "Frames that keep it"}, rows);
}

std::string assumptions(const brief::Tolerances& tolerances) {
  std::string words = "Errors are independent, ";
  words += tolerances.law == brief::Tolerances::Law::uniform
               ? "evenly spread within ±"
               : "normally spread with ± being " + significant(tolerances.sigmas, 3) + " standard deviations";
  return words +
         "; a point that members share is off in all of them alike. Each frame's linkage settles topped out on the "
         "shock that it gets. A target's value is taken where the layout as drawn is judged. First order: the root of "
         "the summed squares of slope times standard deviation. Intervals are Wilson's, for 95 %, of these frames "
         "alone: they do not say that a workshop's errors are spread like that.";
}

}  // namespace

std::string yield_words(const search::Sheet& sheet) {
  return sheet.tolerance && sheet.tolerance->yield.of > 0 ? in_words(sheet.tolerance->yield) : "";
}

bool under_yield(const search::Sheet& sheet, const std::optional<double>& asked) {
  return asked && sheet.tolerance && sheet.tolerance->yield.of > 0 && sheet.tolerance->yield.share() < *asked;
}

std::string yield_flag(const search::Sheet& sheet, const std::optional<double>& asked) {
  return under_yield(sheet, asked) ? "✗ under " + significant(100.0 * *asked, 4) + " %" : "";
}

Html tolerance_section(const search::Sheet& sheet, const std::vector<Target>& targets,
                       const brief::Tolerances& tolerances, const std::optional<double>& asked) {
  const ToleranceSheet& tolerance = *sheet.tolerance;
  std::string lead = "Of " + grouped(tolerance.yield.of) + " frames built with errors by chance, " +
                     in_words(tolerance.yield) + " keep " + search::what_is_kept(targets);
  lead += tolerance.unassembled == 0 ? "; all assemble." : "; " + grouped(tolerance.unassembled) + " do not assemble.";
  if (under_yield(sheet, asked))
    lead += " ✗ The brief asks for a yield of " + significant(100.0 * *asked, 4) +
            " %, which this layout does not reach: give it more room, or allow wider limits or closer tolerances.";
  return element("p", lead) + target_rows(tolerance, targets) + rule_rows(tolerance) +
         element("p", {{"class", "fine"}}, text(assumptions(tolerances))) +
         element("p", link_to("tolerances.csv", "tolerances.csv") + text(", ") + link_to("bands.csv", "bands.csv"));
}

Html sensitivity_section(const search::Sheet& sheet, const std::vector<Target>& targets) {
  const ToleranceSheet& tolerance = *sheet.tolerance;
  const bool given = tolerance.yield.of > 0;
  std::vector<std::vector<Html>> rows;
  for (std::size_t i = 0; i < std::min(tolerance.effects.size(), most_effects); ++i) {
    const search::Effect& effect = tolerance.effects[i];
    const Target& target = targets[effect.target];
    const search::Coordinate& coordinate = tolerance.coordinates[effect.coordinate];
    std::vector<Html> row{head_cell(text(coordinate.name)), cell(target.name),
                          number_cell(quantity(effect.slope, decimals_of_spread(target), unit_of(target)) + " per mm")};
    if (given) row.push_back(number_cell("± " + significant(coordinate.plus_minus, 3) + " mm"));
    row.push_back(number_cell(shown(effect.tolerances, 2)));
    rows.push_back(std::move(row));
  }
  std::vector<std::string> head{"Moved", "Target", "Effect"};
  if (given) head.emplace_back("Tolerance");
  head.emplace_back(given ? "That ± in the target's tolerances" : "A mm in the target's tolerances");
  return table("The greatest first; all of them in sensitivity.csv.", head, rows) +
         element("p", link_to("sensitivity.csv", "sensitivity.csv"));
}

std::string tolerances_csv(const search::Sheet& sheet, const std::vector<Target>& targets) {
  std::string out =
      csv_record({"target", "unit", "as_drawn", "mean", "standard_deviation", "first_order_standard_deviation",
                  "percentile_5", "percentile_95", "frames", "frames_met", "met_from", "met_to"});
  const ToleranceSheet& tolerance = *sheet.tolerance;
  const auto counts = [](const search::Share& share) {
    return std::vector<std::string>{std::to_string(share.of), std::to_string(share.kept), csv_number(share.lo),
                                    csv_number(share.hi)};
  };
  const auto add = [&](std::vector<std::string> record, const search::Share& share) {
    for (std::string& field : counts(share)) record.push_back(std::move(field));
    out += csv_record(record);
  };
  for (std::size_t t = 0; t < targets.size(); ++t) {
    const search::TargetSpread& s = tolerance.targets[t];
    add({targets[t].name, unit_of(targets[t]), csv_number(s.nominal), csv_number(s.mean), csv_number(s.deviation),
         csv_number(s.first_order), csv_number(s.low), csv_number(s.high)},
        s.met);
  }
  for (const search::RuleShare& rule : tolerance.rules) add({rule.name, "", "", "", "", "", "", ""}, rule.met);
  add({"every requirement", "", "", "", "", "", "", ""}, tolerance.yield);
  return out;
}

std::string sensitivity_csv(const search::Sheet& sheet, const std::vector<Target>& targets) {
  const ToleranceSheet& tolerance = *sheet.tolerance;
  std::string out =
      csv_record({"coordinate", "target", "unit", "effect_per_mm", "plus_minus_mm", "effect_in_target_tolerances"});
  for (const search::Effect& effect : tolerance.effects) {
    const Target& target = targets[effect.target];
    const search::Coordinate& coordinate = tolerance.coordinates[effect.coordinate];
    out += csv_record({coordinate.name, target.name, unit_of(target), csv_number(effect.slope),
                       csv_number(coordinate.plus_minus), csv_number(effect.tolerances)});
  }
  return out;
}

std::string bands_csv(const search::Sheet& sheet) {
  const ToleranceSheet& tolerance = *sheet.tolerance;
  std::vector<std::string> record{"travel_mm"};
  for (const search::CurveBand& band : tolerance.bands) {
    const bike::Column* column = sheet.motion.table.find(band.key);
    const std::string name = column == nullptr ? std::string(bike::record(band.key.curve).column) : column->name;
    record.push_back(name + " 5 %");
    record.push_back(name + " 95 %");
  }
  std::string out = csv_record(record);
  for (std::size_t i = 0; i < tolerance.fractions.size(); ++i) {
    record = {csv_number(tolerance.fractions[i] * sheet.bottomed.travel)};
    for (const search::CurveBand& band : tolerance.bands) {
      record.push_back(csv_number(band.low[i]));
      record.push_back(csv_number(band.high[i]));
    }
    out += csv_record(record);
  }
  return out;
}

}  // namespace trammel::report
