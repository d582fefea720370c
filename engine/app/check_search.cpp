// trammel check: what a search of the brief would do, and what is known before it.
#include <fmt/core.h>

#include "app/check_parts.hpp"
#include "app/print.hpp"
#include "app/text.hpp"
#include "report/digits.hpp"
#include "search/preflight.hpp"
#include "search/tolerance.hpp"

namespace trammel::app {

void describe_tolerances(const brief::Brief& brief) {
  if (!brief.tolerances) return;
  const search::ToleranceSheet sheet = search::study_tolerances(
      {brief.layout, brief.targets, brief.packaging, objectives::usable_instruction_sets().back()}, *brief.tolerances,
      brief.search.seed, {}, [] {});
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

void describe_ranges(const search::Setup& setup) {
  const search::DrawnDesign drawn = search::drawn_design(setup);
  TextTable table({TextTable::Align::left, TextTable::Align::left, TextTable::Align::left});
  for (std::size_t v = 0; v < drawn.x.size(); ++v) {
    const search::Variable& variable = setup.design.variables()[v];
    table.add({variable.name, fmt::format("{:g} to {:g} {}", variable.lo, variable.hi, variable.unit),
               "drawn " + report::shown(variable.at(drawn.x[v]), 2)});
  }
  print_out("{}", table.text(4));
}

bool describe_prospects(const search::Setup& setup) {
  const std::vector<std::string> proven = search::proven_conflicts(setup.brief);
  for (const std::string& sentence : proven) print_out("{}", folded("cannot be met: " + sentence, 2, 4));
  for (const std::string& sentence : search::probe(setup).sentences) print_out("{}", folded("note: " + sentence, 2, 4));
  return proven.empty();
}

}  // namespace trammel::app
