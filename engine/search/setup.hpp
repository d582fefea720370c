// A brief made ready to search: compiled once, shared by all threads, never changed.
#pragma once

#include <vector>

#include "bike/model.hpp"
#include "brief/brief.hpp"
#include "objectives/evaluator.hpp"
#include "search/design.hpp"
#include "search/sobol.hpp"

namespace trammel::search {

struct Setup {
  /// `brief` must outlive it and have at least one variable. Without `set` the widest that the processor runs is
  /// used; the digits do not depend on it. Throws linkage::CompileFailure.
  explicit Setup(const brief::Brief& brief, std::optional<objectives::InstructionSet> set = {});

  Setup(const Setup&) = delete;  // its demands point to its models
  Setup& operator=(const Setup&) = delete;

  const brief::Brief& brief;
  Design design;
  std::vector<bike::Model> models;           ///< one a choice
  std::vector<objectives::Demands> demands;  ///< one a choice
  objectives::InstructionSet instruction_set;
  Sobol sobol;
};

/// Name of the engine and its version, as stored in studies.
std::string engine_version();

}  // namespace trammel::search
