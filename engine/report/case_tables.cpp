#include "report/case_tables.hpp"

#include <algorithm>
#include <variant>

#include "report/digits.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using search::CaseSheet;
using search::Sheet;

std::vector<std::string> heads(const Sheet& sheet, const char* first, std::vector<std::string> more) {
  std::vector<std::string> out{first};
  for (const CaseSheet& one : sheet.cases) out.push_back(one.name);
  out.insert(out.end(), more.begin(), more.end());
  return out;
}

Html targets_by_case(const Sheet& sheet, const std::vector<objectives::Target>& targets) {
  std::vector<std::vector<Html>> rows;
  for (std::size_t t = 0; t < own_targets(targets); ++t) {
    const int decimals = decimals_for(targets[t].tolerance);
    std::vector<Html> row{head_cell(text(targets[t].name))};
    std::vector<double> achieved;
    for (const CaseSheet& one : sheet.cases) {
      const objectives::Verdict* verdict = verdict_in(one, t);
      if (verdict != nullptr) achieved.push_back(verdict->achieved);
      row.push_back(verdict == nullptr   ? number_cell("–")
                    : targets[t].between ? number_cell(quantity(verdict->achieved, decimals, unit_of(targets[t])))
                                         : element("td", {{"class", verdict->met ? "n" : "n missed"}},
                                                   text((verdict->met ? "✓ " : "✗ ") + outcome(targets[t], *verdict))));
    }
    const auto [least, most] = std::minmax_element(achieved.begin(), achieved.end());
    row.push_back(number_cell(achieved.empty() ? "–" : shown(*least, decimals) + " to " + shown(*most, decimals)));
    rows.push_back(std::move(row));
  }
  return table("A target's value where it is decided. –: does not hold there.", heads(sheet, "Target", {"Spread"}),
               rows);
}

Html numbers_by_case(const Sheet& sheet) {
  std::vector<std::vector<Html>> rows;
  const auto row = [&](const char* label, auto value_of) {
    std::vector<Html> cells{head_cell(text(label))};
    for (const CaseSheet& one : sheet.cases) cells.push_back(number_cell(value_of(one)));
    rows.push_back(std::move(cells));
  };
  row("Wheel travel [mm]", [](const CaseSheet& one) { return shown(one.travel, 1); });
  const auto topped_out = [&](const char* label, int decimals, auto value_of) {
    row(label, [&](const CaseSheet& one) {
      return one.geometry.empty() ? std::string("–") : shown(value_of(one.geometry.front()), decimals);
    });
  };
  topped_out("Head angle topped out [°]", 2, [](const bike::GeometryRow& r) { return r.head_angle; });
  topped_out("BB height topped out [mm]", 1, [](const bike::GeometryRow& r) { return r.bb_height; });
  topped_out("Wheelbase topped out [mm]", 1, [](const bike::GeometryRow& r) { return r.wheelbase; });
  topped_out("Chainstay topped out [mm]", 1, [](const bike::GeometryRow& r) { return r.chainstay; });
  if (!sheet.cases.front().set_up.empty()) {
    // Set-up has a spring; a measured one has nothing to set.
    const auto& kind = sheet.layout.shock->spring->kind;
    if (std::holds_alternative<spring::Table>(kind)) return table("", heads(sheet, "Spring", {}), rows);
    const bool air = std::holds_alternative<spring::Air>(kind);
    row(air ? "Pressure for the riders [bar]" : "Coil rate for the riders [N/mm]", [](const CaseSheet& one) {
      std::string out;
      for (const bike::SetUpRow& r : one.set_up)
        out += (out.empty() ? "" : "; ") + quantity(r.rider, 1, "kg") + ": " + shown(r.wanted, 2);
      return out;
    });
  }
  return table("", heads(sheet, "Spring", {}), rows);
}

}  // namespace

const objectives::Verdict* verdict_in(const CaseSheet& one, std::size_t target) {
  const auto& numbers = one.judged.numbers;
  const auto found = std::find(numbers.begin(), numbers.end(), target);
  return found == numbers.end() ? nullptr
                                : &one.judged.assessment.targets[static_cast<std::size_t>(found - numbers.begin())];
}

const objectives::Verdict* drawn_verdict(const Sheet& sheet, std::size_t target) {
  return sheet.cases.empty() ? &sheet.assessment.targets[target] : verdict_in(sheet.cases.front(), target);
}

std::string curves_file(const CaseSheet& one) {
  return "curves-" + one.name + ".csv";
}

Html case_tables(const Sheet& sheet, const std::vector<objectives::Target>& targets) {
  Html out = element("p", "The drawing, the curves and the tables below show " + sheet.cases.front().name +
                              "; each case is a setting in a size.");
  if (!targets.empty()) out += targets_by_case(sheet, targets);
  return out + numbers_by_case(sheet);
}

}  // namespace trammel::report
