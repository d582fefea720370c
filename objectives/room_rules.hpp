// Packaging rules on bodies, as measures of a bike::Room.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bike/room.hpp"
#include "objectives/packaging.hpp"

namespace trammel::objectives {

/// The room that packaging asks about: every pair of every clearance, then the points kept in.
bike::Room room_of(const bike::Model& model, const Packaging& packaging);

/// What measure number k is about: "tyre – seat_tube", or the point's name.
std::string room_subject(const bike::Room& room, const bike::Model& model, const Packaging& packaging, std::size_t k);

/// Name of the verdicts on gaps between bodies, which stand in the order of the room's gaps.
inline constexpr std::string_view clearance_rule = "clearance";

/// Scale at which a missed clearance counts as one residual, mm.
inline constexpr double room_scale = 2.0;
/// A search asks for so much more room, mm, so that what it finds is safely inside: a penalty leaves its minimum just
/// outside a limit that binds, and a reported layout is rounded to a thousandth of a millimetre.
inline constexpr double room_inset = 0.02;

/// By how much a measure is missed, as a multiple of the scale; negative when it holds.
template <class T>
T room_miss(double least, const T& measured) {
  return (T(least + room_inset) - measured) * T(1.0 / room_scale);
}

}  // namespace trammel::objectives
