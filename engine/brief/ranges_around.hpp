// Ranges around where the points of a layout are.
#pragma once

#include <set>
#include <string>

#include "brief/brief.hpp"

namespace trammel::brief {

struct Around {
  const bike::Layout& layout;
  /// The brief that places each point in its way; null = none does.
  const Brief* of = nullptr;
  std::set<int> keep = {};  ///< points that stay where they are
  double within = 0.0;      ///< how far the others may move from where they are, mm
};

/// The brief whose ways of placing points a layout takes: of one that names several linkages, that with the same
/// points; null where it varies no point that the layout has.
const Brief* placed_by(const bike::Layout& layout, const Brief& brief);

/// The group `vary`, with its line breaks; empty when nothing is left to move.
///
/// A point of a brief keeps the way in which it is placed there, the numbers that are fixed there and the ends of its
/// ranges, where it lies between them. Of a layout without a brief every point but the rear axle moves by x and y. One
/// Points that follow, since their member keeps its shape, are left out. One
/// eye of the shock is placed from the other at the shock's length where either may move.
std::string ranges_around(const Around& around);

/// How far outside of its brief's range a point of a layout lies, a line a point; empty where all lie inside.
std::string outside_ranges(const bike::Layout& layout, const Brief& of);

}  // namespace trammel::brief
