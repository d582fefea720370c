// Packaging rules on bodies, as measures of a bike::Room.
#pragma once

#include "bike/room.hpp"
#include "objectives/packaging.hpp"

namespace trammel::objectives {

/// The room that packaging asks about: every pair of every clearance, then the points kept in.
bike::Room room_of(const bike::Model& model, const Packaging& packaging);

}  // namespace trammel::objectives
