// Demands that give way, and by how much: what a search of the whole brief has shown to be enough.
#pragma once

#include <string>
#include <vector>

#include "bike/layout.hpp"
#include "objectives/verdict.hpp"
#include "search/demand.hpp"
#include "search/limit.hpp"

namespace trammel::search {

/// What a demand gives.
struct Give {
  Demand demand;
  Limit limit;
  double amount = 0.0;  ///< in the limit's unit, > 0, with its decimals; infinite: it is dropped
};

/// A layout that shows something, judged by the whole brief.
struct Witness {
  std::vector<double> design;  ///< in [0, 1]
  int choice = 0;
  bike::Layout layout;
  objectives::Assessment assessment;
};

/// Demands that together give enough for the whole brief to be met.
struct WayOut {
  std::vector<Give> gives;  ///< at least one, in the order of the demands
  std::string brief_text;   ///< the brief that was searched: the study's, with these numbers changed
  std::string id;           ///< of the layout, in a study of that brief
  Witness shown;            ///< the layout; misses nothing but what gave way
};

}  // namespace trammel::search
