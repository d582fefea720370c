// Bodies as they are drawn, at one position of the linkage.
#pragma once

#include <string>
#include <vector>

#include "bike/bodies.hpp"
#include "bike/layout.hpp"

namespace trammel::bike {

/// A body as it is drawn: capsules, or the sides of a polygon.
struct BodyOutline {
  struct Part {
    linkage::Point from, to;  ///< frame axes, mm
    double radius = 0.0;      ///< mm
  };
  std::string name;
  bool solid = false;  ///< the parts are a polygon's sides
  std::vector<Part> parts;
};

/// The bodies of a layout where its points are at `position`.
std::vector<BodyOutline> body_outlines(const Layout& layout, const std::vector<Body>& bodies,
                                       const std::vector<linkage::Point>& position);

}  // namespace trammel::bike
