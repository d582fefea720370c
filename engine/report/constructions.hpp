// What anti-squat and anti-rise mean, drawn: lines from the rear tyre's contact to over the front one.
#pragma once

#include "report/scene.hpp"

namespace trammel::report {

/// Adds to a scene the centre of gravity and three lines that begin at the rear contact and end over the front contact,
/// square to the ground: load transfer, as high there as the centre of gravity; braking, as high as anti-rise is a part
/// of that; and with a gear driving, likewise by its anti-squat. Where a line runs above that of the load transfer the
/// suspension is pushed out, where below in. A line that the table has no curve for is left out; where the curve has no
/// value at the station, it is a point.
///
/// Sources: docs/notation.md, anti-squat and anti-rise.
void add_constructions(Scene& scene, const bike::Layout& layout, const bike::Motion& motion, std::size_t station);
/// The line of driving in a gear alone.
void add_driving_line(Scene& scene, const bike::Motion& motion, std::size_t station, int gear);

}  // namespace trammel::report
