// trammel check: what a search of the brief would do, and what is known before it.
#include <fmt/core.h>

#include "app/check_parts.hpp"
#include "app/print.hpp"
#include "app/text.hpp"
#include "report/digits.hpp"
#include "search/tolerance.hpp"

namespace trammel::app {

void describe_tolerances(const brief::Brief& brief, const search::ToleranceSheet& sheet) {
  print_out("{}",
            folded(fmt::format("tolerances: {} coordinates; of {} frames built as drawn {:.1f} % ({:.1f} to {:.1f} "
                               "%) keep {}",
                               sheet.coordinates.size(), sheet.yield.of, 100.0 * sheet.yield.share(),
                               100.0 * sheet.yield.lo, 100.0 * sheet.yield.hi, search::what_is_kept(brief.targets)),
                   2, 4));
  TextTable table({TextTable::Align::left, TextTable::Align::left});
  for (std::size_t t = 0; t < brief.targets.size(); ++t) {
    const search::TargetSpread& spread = sheet.targets[t];
    // What is sound by default is named where a frame misses it.
    if (brief.targets[t].origin == objectives::Origin::sound && spread.met.kept == spread.met.of) continue;
    table.add({brief.targets[t].name,
               fmt::format("{:.4g}, standard deviation {:.3g} (to first order {:.3g}), {:.1f} % meet it", spread.mean,
                           spread.deviation, spread.first_order, 100.0 * spread.met.share())});
  }
  print_out("{}", table.text(4));
}

void describe_ranges(const Outlook& outlook) {
  const std::vector<double>& drawn = outlook.drawn.x;
  TextTable table({TextTable::Align::left, TextTable::Align::left, TextTable::Align::left});
  for (std::size_t v = 0; v < drawn.size(); ++v) {
    const search::Variable& variable = outlook.setup.design.variables()[v];
    table.add({variable.name, fmt::format("{:g} to {:g} {}", variable.lo, variable.hi, variable.unit),
               "drawn " + report::shown(variable.at(drawn[v]), 2)});
  }
  print_out("{}", table.text(4));
}

void describe_prospects(const Outlook& outlook) {
  for (const std::string& sentence : outlook.proven) print_out("{}", folded("cannot be met: " + sentence, 2, 4));
  for (const std::string& sentence : outlook.notes) print_out("{}", folded("note: " + sentence, 2, 4));
}

void describe_gradient(const search::Setup& setup, const search::GradientCheck& check) {
  if (check.layouts == 0) {
    print_out("  gradient: no layout found that assembles\n");
    return;
  }
  const search::GradientEntry& worst = check.worst;
  std::string out = fmt::format(
      "gradient: {} entries at {} layouts; the worst is off by {:.1e} of its gradient's greatest entry: by {}, exact "
      "{:.9g}, differences {:.9g}, at",
      check.entries, check.layouts, worst.off(), worst.variable, worst.exact, worst.difference);
  for (std::size_t v = 0; v < worst.x.size(); ++v)
    out += fmt::format("{} {} = {:.9g}", v == 0 ? "" : ",", setup.design.variables()[v].name,
                       setup.design.variables()[v].at(worst.x[v]));
  print_out("{}", folded(out, 2, 4));
}

}  // namespace trammel::app
