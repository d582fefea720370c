#include "search/setup.hpp"

namespace trammel::search {

std::vector<CaseSetup> cases_of(const bike::Layout& layout, const std::vector<objectives::Target>& targets) {
  std::vector<CaseSetup> out;
  for (const bike::Case& which : bike::cases_of(layout)) {
    CaseSetup one{which, bike::name_of(layout, which), {}, {}};
    for (std::size_t t = 0; t < targets.size(); ++t) {
      if (!bike::holds_in(layout, which, targets[t].in)) continue;
      one.targets.push_back(targets[t].between ? objectives::watched(targets[t]) : targets[t]);
      one.numbers.push_back(t);
    }
    out.push_back(std::move(one));
  }
  return out;
}

Setup::Setup(const brief::Brief& b, std::optional<objectives::InstructionSet> set)
    : brief(b),
      design(b),
      cases(cases_of(b.layout, b.targets)),
      comparisons(objectives::comparisons_of(b.layout, b.targets)),
      instruction_set(set.value_or(objectives::usable_instruction_sets().back())),
      sobol(design.size(), b.search.seed) {
  for (int choice = 0; choice < design.choices(); ++choice)
    for (const CaseSetup& one : cases)
      models.push_back(make_model(bike::unsettled(design.with_choice(choice), one.which)));
  for (std::size_t i = 0; i < models.size(); ++i)
    demands.emplace_back(models[i], cases[i % cases.size()].targets, b.packaging);
  for (const brief::Brief& one : b.linkages) linkages.push_back(std::make_unique<Setup>(one, set));
}

void Setup::use(objectives::InstructionSet set) {
  instruction_set = set;
  for (const auto& one : linkages) one->instruction_set = set;
}

std::string engine_version() {
  return "trammel " TRAMMEL_VERSION;
}

}  // namespace trammel::search
