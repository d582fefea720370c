#include "report/guidance_table.hpp"

#include "report/digits.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

Html guidance_table(const search::Sheet& sheet) {
  if (sheet.guidance.empty()) return {};
  std::vector<std::vector<Html>> rows;
  for (const objectives::Remark& remark : sheet.guidance) {
    const objectives::Target& target = remark.target;
    rows.push_back({head_cell(text(remark.record->what)), cell(wish(target)),
                    number_cell(quantity(remark.verdict.achieved, decimals_for(target.tolerance), unit_of(target))),
                    cell(remark.verdict.met ? "as usual" : std::string(remark.words()))});
  }
  const std::string of = sheet.layout.kind
                             ? "What is usual for " + std::string(record(*sheet.layout.kind).name) + " bikes. "
                             : "What is usual whatever the kind of bike, since bike.kind does not say it. ";
  const std::string in = sheet.cases.empty() ? "" : " Of the case " + sheet.cases.front().name + ".";
  return table(of +
                   "Common practice, no source: these are remarks, not targets, and nothing in the search looks at "
                   "them." +
                   in,
               {"Looked at", "Usual", "Here", "Remark"}, rows);
}

}  // namespace trammel::report
