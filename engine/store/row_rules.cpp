#include "store/row_rules.hpp"

#include <array>
#include <charconv>

namespace trammel::store {
namespace {

/// Far beyond what any curve, score or margin comes to, and far from where sums and squares overflow.
constexpr double greatest = 1e100;
/// Packaging rules that a brief can have, far fewer than which fit into its text.
constexpr std::int64_t most_rules = 20'000;
constexpr std::int64_t most_evaluations = 1'000'000'000'000;
/// A margin is at most 1, and so is what counts of it.
constexpr double most_margin = 1.0;
constexpr std::size_t longest_cause = 4096;

std::string number(std::int64_t value) {
  return std::to_string(value);
}

/// `row` says table and row, `allowed` what may stand in the column.
void demand(bool holds, const std::string& row, const std::string& column, const std::string& is,
            const std::string& allowed) {
  if (!holds) throw RowFault(row + ": " + column + " is " + is + "; allowed: " + allowed);
}

void demand_whole(const std::string& row, const char* column, std::int64_t value, std::int64_t lo, std::int64_t hi) {
  demand(value >= lo && value <= hi, row, column, number(value),
         lo == hi ? number(lo) : "from " + number(lo) + " to " + number(hi));
}

void demand_real(const std::string& row, const std::string& column, double value, double lo, double hi) {
  const auto text = [](double x) {
    std::array<char, 32> digits{};
    return std::string(digits.data(), std::to_chars(digits.data(), digits.data() + digits.size(), x).ptr);
  };
  const std::string allowed = lo == -greatest && hi == greatest ? "a finite number of a sensible size"
                              : lo == -greatest                 ? "at most " + text(hi)
                              : hi == greatest                  ? "at least " + text(lo)
                                                                : "from " + text(lo) + " to " + text(hi);
  demand(value >= lo && value <= hi, row, column, text(value), allowed);
}

void demand_count(const std::string& row, std::size_t have, std::size_t want) {
  if (have != want)
    throw RowFault(row + ": " + std::to_string(have) + " rows; by the brief there are " + std::to_string(want));
}

}  // namespace

std::string unit_named(std::int64_t unit) {
  return "unit " + number(unit);
}

std::string layout_named(std::int64_t unit, std::int64_t place) {
  return unit_named(unit) + ", place " + number(place);
}

RowCheck::RowCheck(RowRules rules, const StudyHead& head)
    : rules_(std::move(rules)), slice_(head.slice), slices_(head.slices) {}

const RowRules::OfLinkage& RowCheck::of(std::int64_t linkage) const {
  return rules_.linkages.at(static_cast<std::size_t>(linkage));
}

std::int64_t RowCheck::linkage_of(std::int64_t unit) const {
  return unit % static_cast<std::int64_t>(rules_.linkages.size());
}

void RowCheck::unit(const UnitRow& unit) const {
  const std::string row = "table unit, " + unit_named(unit.unit);
  demand_whole(row, "unit", unit.unit, 0, most_units);
  if (unit.unit % slices_ != slice_ - 1)
    throw RowFault(row + ": belongs to another slice than " + number(slice_) + " of " + number(slices_));
  demand_whole(row, "screened", unit.screened, rules_.screened, rules_.screened);
  demand_whole(row, "refined", unit.refined, 0, rules_.most_refined);
  demand_whole(row, "evaluations", unit.evaluations, 0, most_evaluations);
  demand_whole(row, "linkage", unit.linkage, linkage_of(unit.unit), linkage_of(unit.unit));
}

void RowCheck::layout(const LayoutRow& layout) const {
  const std::string row = "table layout, " + layout_named(layout.unit, layout.place);
  demand_whole(row, "unit", layout.unit, 0, most_units);
  demand_whole(row, "place", layout.place, 0, rules_.most_refined - 1);
  demand_whole(row, "linkage of its unit", layout.linkage, linkage_of(layout.unit), linkage_of(layout.unit));
  const RowRules::OfLinkage& own = of(layout.linkage);
  const std::int64_t turn = layout.unit / static_cast<std::int64_t>(rules_.linkages.size());
  demand_whole(row, "choice", layout.choice, turn % own.choices, turn % own.choices);
  demand_whole(row, "musts", layout.musts, own.musts, own.musts + most_rules);
  demand_whole(row, "musts_met", layout.musts_met, 0, layout.musts);
  demand_real(row, "score", layout.score, 0.0, greatest);
  demand_real(row, "margin", layout.margin, -greatest, most_margin);
  demand_real(row, "must_margin", layout.must_margin, -greatest, most_margin);
  demand_real(row, "wish_margin", layout.wish_margin, -greatest, most_margin);
  demand_real(row, "room", layout.room, 0.0, most_margin);
  const auto list = [&](const char* table, const char* each, const std::vector<double>& values, std::size_t want,
                        double lo, double hi) {
    const std::string rows = "table " + std::string(table) + ", " + layout_named(layout.unit, layout.place);
    demand_count(rows, values.size(), want);
    for (std::size_t i = 0; i < values.size(); ++i)
      demand_real(rows + ", " + each + " " + std::to_string(i), "value", values[i], lo, hi);
  };
  list("layout_design", "variable", layout.design, own.variables, 0.0, 1.0);
  list("layout_achieved", "target", layout.achieved, own.targets, -greatest, greatest);
}

void RowCheck::whole(const UnitRow& unit) const {
  this->unit(unit);
  if (static_cast<std::int64_t>(unit.layouts.size()) > unit.refined)
    throw RowFault("table layout, " + unit_named(unit.unit) + ": " + std::to_string(unit.layouts.size()) +
                   " layouts of " + number(unit.refined) + " refined");
  for (std::size_t i = 0; i < unit.layouts.size(); ++i) {
    const LayoutRow& one = unit.layouts[i];
    if (one.place != static_cast<std::int64_t>(i))
      throw RowFault("table layout, " + layout_named(one.unit, one.place) + ": there is no place " + std::to_string(i) +
                     " before it");
    layout(one);
  }
  std::int64_t lost = 0;
  for (const FailureRow& failure : unit.failures) {
    const std::string row = "table failure, " + unit_named(unit.unit);
    if (failure.cause.empty() || failure.cause.size() > longest_cause)
      throw RowFault(row + ": a cause has " + std::to_string(failure.cause.size()) + " bytes");
    demand_whole(row, "count", failure.count, 1, unit.screened - lost);
    lost += failure.count;
  }
}

void demand_head(const StudyHead& head) {
  const std::string row = "table head";
  demand_whole(row, "slices", head.slices, 1, most_units);
  demand_whole(row, "slice", head.slice, 1, head.slices);
  demand_whole(row, "planned_units", head.planned_units, 0, most_units);
}

}  // namespace trammel::store
