// Ranges around where the points of a layout are.
#pragma once

#include <set>
#include <string>

#include "brief/brief.hpp"

namespace trammel::draft {

struct Around {
  const bike::Layout& layout;
  /// The brief that places each point in its way; null = none does.
  const brief::Brief* of = nullptr;
  std::set<int> keep = {};  ///< points that stay where they are
  double within = 0.0;      ///< how far the others may move from where they are, mm
};

/// The group `vary`, with its line breaks; empty when nothing is left to move.
///
/// A point of a brief keeps the way in which it is placed there, the numbers that are fixed there and the ends of its
/// ranges, where it lies between them. Of a layout without a brief every point but the rear axle moves by x and y. One
/// eye of the shock is placed from the other at the shock's length where either may move.
std::string ranges_around(const Around& around);

/// How far outside of its brief's range a point of a layout lies, a line a point; empty where all lie inside.
std::string outside_ranges(const bike::Layout& layout, const brief::Brief& of);

}  // namespace trammel::draft
