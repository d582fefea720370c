// How much room musts are to keep.
#pragma once

namespace trammel::search {

/// The margin that every must and packaging rule is to keep before wishes count: the floor of the must margin.
inline constexpr double must_room = 0.25;

}  // namespace trammel::search
