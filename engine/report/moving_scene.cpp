#include "report/moving_scene.hpp"

#include "report/constructions.hpp"
#include "report/frame_sketch.hpp"

namespace trammel::report {

Scene moving_scene(const bike::Layout& layout, const std::vector<bike::Body>& bodies, const bike::Motion& motion,
                   std::size_t station) {
  const bike::Pose& pose = motion.poses[station];
  Scene scene = make_scene(layout, pose, nullptr);
  sketch_frame(scene, layout, pose);
  add_bodies(scene, bike::body_outlines(layout, bodies, pose.points));
  add_constructions(scene, layout, motion, station);
  return scene;
}

Scene moving_chain(const bike::Layout& layout, const bike::Motion& motion, std::size_t station, std::size_t gear) {
  Scene scene = chain_scene(layout, motion.poses[station], layout.drivetrain.gears[gear]);
  add_driving_line(scene, motion, station, static_cast<int>(gear));
  return scene;
}

}  // namespace trammel::report
