// Where along the stroke bodies come closest, as drawings show it.
#pragma once

#include <string>
#include <vector>

#include "bike/closest.hpp"
#include "objectives/packaging.hpp"
#include "objectives/verdict.hpp"

namespace trammel::search {

/// The closest place of two bodies over the stroke.
struct ClosePlace {
  std::string pair;     ///< "tyre – seat_tube"
  double gap = 0.0;     ///< mm, as judged; negative where they overlap
  double travel = 0.0;  ///< wheel travel there, mm
  bool met = false;
  bike::Point from, to;                   ///< on the one and on the other, frame axes, mm
  std::vector<bike::BodyOutline> bodies;  ///< the two, there
};

/// Of the clearances that a layout misses, and of that with the least to spare in any case; the tightest first.
/// `assessment` is the layout's own.
std::vector<ClosePlace> close_places(const bike::Layout& layout, const objectives::Packaging& packaging,
                                     const objectives::Assessment& assessment);

}  // namespace trammel::search
