// What a moving drawing shows at a station of a motion: the report writes it into a page, the page's kernel computes it
// anew.
#pragma once

#include "bike/bodies.hpp"
#include "report/scene.hpp"

namespace trammel::report {

/// The bike: linkage, sketched frame, bodies, and the lines of load transfer and braking. Its parts are the same at
/// every station.
Scene moving_scene(const bike::Layout& layout, const std::vector<bike::Body>& bodies, const bike::Motion& motion,
                   std::size_t station);

/// The drivetrain in a gear, by number, and the line of driving in it.
Scene moving_chain(const bike::Layout& layout, const bike::Motion& motion, std::size_t station, std::size_t gear);

}  // namespace trammel::report
