#include "search/setup.hpp"

namespace trammel::search {

Setup::Setup(const brief::Brief& b) : brief(b), design(b), sobol(design.size(), b.search.seed) {
  for (int choice = 0; choice < design.choices(); ++choice) models.push_back(make_model(design.with_choice(choice)));
}

std::string engine_version() {
  return "trammel " TRAMMEL_VERSION;
}

}  // namespace trammel::search
