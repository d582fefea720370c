#include "search/row_rules.hpp"

#include <algorithm>

namespace trammel::search {

store::RowRules row_rules(const Setup& setup) {
  store::RowRules rules;
  rules.screened = setup.brief.search.samples;
  rules.most_refined = setup.brief.search.refine + 1;  // the leader once more, from farther off
  for (std::int64_t l = 0; l < setup.linkage_count(); ++l) {
    const Setup& own = setup.of(l);
    const std::vector<objectives::Target>& targets = own.brief.targets;
    rules.linkages.push_back(
        {.variables = static_cast<std::size_t>(own.design.size()),
         .targets = targets.size(),
         .musts = std::count_if(targets.begin(), targets.end(), [](const auto& target) { return target.must; }),
         .choices = own.design.choices()});
  }
  return rules;
}

}  // namespace trammel::search
