#include "report/guidance_table.hpp"

#include <algorithm>

#include "report/digits.hpp"
#include "report/parts.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

std::vector<objectives::SharedRemark> remarks_of(const search::Sheet& sheet) {
  std::vector<std::vector<objectives::Remark>> cases;
  for (const search::CaseSheet& one : sheet.cases) cases.push_back(one.guidance);
  if (cases.empty()) cases.push_back(sheet.guidance);
  return objectives::shared(cases);
}

}  // namespace

std::vector<std::string> unusual(const search::Sheet& sheet) {
  std::vector<std::string> out;
  for (const objectives::SharedRemark& one : remarks_of(sheet))
    if (!one.remark.verdict.met) out.emplace_back(one.remark.words());
  return out;
}

Html guidance_table(const search::Sheet& sheet) {
  const std::vector<objectives::SharedRemark> remarks = remarks_of(sheet);
  if (remarks.empty()) return {};
  std::vector<std::vector<Html>> rows;
  for (const objectives::SharedRemark& one : remarks) {
    const objectives::Target& target = one.remark.target;
    const int decimals = decimals_for(target.tolerance);
    std::string found = shown(one.least, decimals) == shown(one.greatest, decimals) ? "" : shown(one.least, decimals);
    if (!found.empty()) found += " to ";
    found += quantity(one.greatest, decimals, unit_of(target));
    if (one.differs(std::max<std::size_t>(sheet.cases.size(), 1)))
      for (const std::size_t number : one.cases)
        found.append(number == one.cases.front() ? ", in " : ", ").append(sheet.cases[number].name);
    rows.push_back({head_cell(text(one.remark.record->what)), cell(wish(target)), number_cell(found),
                    cell(one.remark.verdict.met ? "as usual" : std::string(one.remark.words()))});
  }
  const std::string of = sheet.layout.kind
                             ? "What is usual for " + std::string(record(*sheet.layout.kind).name) + " bikes. "
                             : "What is usual whatever the kind of bike, since bike.kind does not say it. ";
  const std::string in = sheet.cases.empty() ? "" : " Of every case; named where the remark is not about all of them.";
  return table(of +
                   "Common practice, no source: these are remarks, not targets, and nothing in the search looks at "
                   "them." +
                   in,
               {"Looked at", "Usual", "Here", "Remark"}, rows);
}

}  // namespace trammel::report
