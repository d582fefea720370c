// Tubes, tyres and fork around a linkage, so that one sees a bike. For the eye alone: nothing is computed by them.
#pragma once

#include "report/scene.hpp"

namespace trammel::report {

/// Gives links and tyres a width, and puts tubes in the place of the frame's outline, fork and line to the saddle: head
/// tube and fork where the layout says, or where a front axle and a wheel let one expect them; the others from there
/// and the bottom bracket; and a bracket from each of the frame's points to the tube that is nearest.
void sketch_frame(Scene& scene, const bike::Layout& layout, const bike::Pose& pose);

}  // namespace trammel::report
