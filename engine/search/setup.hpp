// A brief made ready to search: compiled once, shared by all threads, never changed.
#pragma once

#include <vector>

#include "bike/model.hpp"
#include "brief/brief.hpp"
#include "search/design.hpp"
#include "search/sobol.hpp"

namespace trammel::search {

struct Setup {
  /// `brief` must outlive it and have at least one variable. Throws linkage::CompileFailure.
  explicit Setup(const brief::Brief& brief);

  const brief::Brief& brief;
  Design design;
  std::vector<bike::Model> models;  ///< one a choice
  Sobol sobol;
};

/// Name of the engine and its version, as stored in studies.
std::string engine_version();

}  // namespace trammel::search
