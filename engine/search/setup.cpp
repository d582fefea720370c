#include "search/setup.hpp"

namespace trammel::search {

Setup::Setup(const brief::Brief& b, std::optional<objectives::InstructionSet> set)
    : brief(b),
      design(b),
      instruction_set(set.value_or(objectives::usable_instruction_sets().back())),
      sobol(design.size(), b.search.seed) {
  for (int choice = 0; choice < design.choices(); ++choice) models.push_back(make_model(design.with_choice(choice)));
  for (const bike::Model& model : models) demands.emplace_back(model, b.targets, b.packaging);
}

std::string engine_version() {
  return "trammel " TRAMMEL_VERSION;
}

}  // namespace trammel::search
