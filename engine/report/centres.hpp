// How far the points of every member are from each other: what a link is made by.
#pragma once

#include <string>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::report {

struct CentreDistance {
  std::string member;
  std::string from, to;   ///< points that the member carries
  double distance = 0.0;  ///< mm
  bool frame = false;     ///< the member is the frame
};

/// Every two points of every member, member by member in the layout's order.
std::vector<CentreDistance> centre_distances(const bike::Layout& layout);

}  // namespace trammel::report
