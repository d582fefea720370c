// A brief made ready to search: compiled once, shared by all threads, never changed.
#pragma once

#include <algorithm>
#include <cstdint>
#include <memory>
#include <vector>

#include "bike/cases.hpp"
#include "brief/brief.hpp"
#include "objectives/comparison.hpp"
#include "objectives/evaluator.hpp"
#include "search/design.hpp"
#include "search/sobol.hpp"

namespace trammel::search {

/// One case of a brief's layout, with what is wished of it there.
struct CaseSetup {
  bike::Case which;
  std::string name;
  std::vector<objectives::Target> targets;
  std::vector<std::size_t> numbers;  ///< of its targets in the brief

  /// Where one of the brief's targets that holds here is in `targets`.
  std::size_t place_of(std::size_t number) const {
    return static_cast<std::size_t>(std::find(numbers.begin(), numbers.end(), number) - numbers.begin());
  }
};

/// One for each case of the brief's layout; of a layout that is only as drawn, one with all targets. Targets that
/// compare cases are watched in each: see objectives/comparison.hpp.
std::vector<CaseSetup> cases_of(const bike::Layout& layout, const std::vector<objectives::Target>& targets);

struct Setup {
  /// `brief` must outlive it and have at least one variable. Without `set` the widest that the processor runs is
  /// used; the digits do not depend on it. Throws linkage::CompileFailure.
  explicit Setup(const brief::Brief& brief, std::optional<objectives::InstructionSet> set = {});

  Setup(const Setup&) = delete;  // its demands point to its models
  Setup& operator=(const Setup&) = delete;

  const brief::Brief& brief;
  Design design;
  std::vector<CaseSetup> cases;  ///< at least one
  std::vector<objectives::Comparison> comparisons;
  std::vector<bike::Model> models;           ///< one a choice and case, a choice's cases together
  std::vector<objectives::Demands> demands;  ///< likewise
  objectives::InstructionSet instruction_set;
  Sobol sobol;

  /// One for each of the brief's linkages where it names templates, else empty; all of the above is then the first's.
  std::vector<std::unique_ptr<Setup>> linkages;
  std::int64_t linkage_count() const { return linkages.empty() ? 1 : static_cast<std::int64_t>(linkages.size()); }
  /// What units and layouts of a linkage belong to.
  const Setup& of(std::int64_t linkage) const {
    return linkages.empty() ? *this : *linkages.at(static_cast<std::size_t>(linkage));
  }
  /// Has all linkages computed with `set`.
  void use(objectives::InstructionSet set);
};

/// Name of the engine and its version, as stored in studies.
std::string engine_version();

}  // namespace trammel::search
