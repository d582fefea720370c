// Where two bodies come closest, as a drawing shows it.
#pragma once

#include "bike/body_outlines.hpp"

namespace trammel::bike {

/// The closest points of two outlines, frame axes, mm. Where the outlines overlap each lies inside the other; where
/// lines without a thickness cross they are one.
struct ClosestPoints {
  linkage::Point on_one, on_other;
  double apart = 0.0;  ///< distance of the outlines, negative where they overlap; see `closest`
};

/// Of the nearest two parts. A polygon is its border: a body inside one has a distance from that like one outside.
/// Both have a part at least.
ClosestPoints closest(const BodyOutline& one, const BodyOutline& other);

}  // namespace trammel::bike
