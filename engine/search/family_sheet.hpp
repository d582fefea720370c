// Families of layouts that meet every must, as a report wants them.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::search {

/// Between which values one varied number lies in a family. Angles in degrees, lengths in mm.
struct FamilyExtent {
  std::string name;
  std::string unit;
  double lo = 0.0, hi = 0.0;              ///< the brief's range
  double found_lo = 0.0, found_hi = 0.0;  ///< of the layouts found in the family
  double shown_lo = 0.0, shown_hi = 0.0;  ///< of these and of what feasible paths from them lead to
};

/// Layouts that feasible paths lead over into one another.
struct Family {
  std::string linkage;  ///< as in a sheet
  bike::Layout layout;  ///< its best, as drawn
  int assembly = 0;     ///< number of its assembly branch among those of its linkage and choice, from 1 …
  int assemblies = 1;   ///< … of so many
  std::string best;     ///< the best layout's id
  std::vector<std::string> members;   ///< ids of the layouts found in it, in the order of units
  std::vector<int> shortlisted;       ///< ranks of those that are on the shortlist
  double score = 0.0, margin = 0.0;   ///< of the best
  std::int64_t apart = 0;             ///< of its layouts, how many lie `search: distinct:` from one another
  std::vector<FamilyExtent> extents;  ///< in the order of the brief's variables
  bool pushed = false;                ///< whether paths were sought beyond the layouts found
};

struct Families {
  std::vector<Family> families;  ///< in order of merit of their best layouts
  std::int64_t sorts = 0;        ///< linkages, choices and assembly branches that they are of
  std::int64_t feasible = 0;     ///< layouts in the study that meet every must
  std::int64_t looked_at = 0;    ///< of these
  std::int64_t paths = 0;  ///< paths looked at between layouts, straight ones and both parts of those by a waypoint
  int places = 0;          ///< looked at on each, its ends apart
  bool all_tried = true;   ///< false when there were more pairs of families than paths were tried for
  double unseen = 1.0;     ///< estimated share of further refinements that would end in a family not yet seen
};

}  // namespace trammel::search
