// A brief that goes on from a layout: its places as drawn, ranges around them, the wishes of the brief that it is of.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace trammel::draft {

struct Onward {
  bike::Layout layout;     ///< with new places, where points were moved
  std::string name;        ///< of the layout's file, for the head of the text
  std::string notes = {};  ///< of the layout, to be carried on
  /// The brief that the layout is of: where its wishes, its packaging and the way in which each point is placed come
  /// from. Absent = only what is usual for its kind is wished.
  std::optional<brief::Brief> of = {};
  std::optional<bike::Kind> kind = {};  ///< for what is usual, where the layout does not say
  std::vector<std::string> keep = {};   ///< names of points that stay
  double within = 10.0;                 ///< how far the others may move, mm
  std::string references = {};          ///< folder of existing layouts, in place of the one that `of` names
};

/// What cannot go on; the text has a line a problem.
struct NoWayOn : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The brief's text, which its reader takes. Throws NoWayOn with everything that is wrong: names that are none, nothing
/// left to move, and what the reader says of a layout that has become none.
std::string onward(const Onward& from);

}  // namespace trammel::draft
