#include "report/constructions.hpp"

#include "bike/reading.hpp"

namespace trammel::report {

using bike::Curve;
using bike::Point;

namespace {

constexpr double cg_mark = 22.0;  // radius, mm

/// A curve's values, a station each; null where the table has no such curve.
const std::vector<std::optional<double>>* values_of(const bike::Motion& motion, bike::CurveKey key) {
  const bike::Column* column = motion.table.find(key);
  return column == nullptr ? nullptr : &column->values;
}

/// From the rear contact to so high over the front one; no longer than a point where there is no height.
void add_line(Scene& scene, const bike::Pose& pose, Part part, const char* name, std::optional<double> height) {
  const Point end = height ? pose.front_contact + perp(pose.ground) * *height : pose.rear_contact;
  scene.strokes.push_back({part, name, {pose.rear_contact, end}});
}

/// A line whose height over the front contact is so many hundredths of that of the centre of gravity.
void add_share(Scene& scene, const bike::Motion& motion, std::size_t station, Part part, const char* name,
               bike::CurveKey key) {
  const auto *heights = values_of(motion, {Curve::cg_height}), *shares = values_of(motion, key);
  if (heights == nullptr || shares == nullptr) return;
  const auto height = (*heights)[station], share = (*shares)[station];
  add_line(scene, motion.poses[station], part, name,
           height && share ? std::optional(*height * *share / 100.0) : std::nullopt);
}

}  // namespace

void add_constructions(Scene& scene, const bike::Layout& layout, const bike::Motion& motion, std::size_t station) {
  const auto* heights = values_of(motion, {Curve::cg_height});
  if (heights == nullptr || !(*heights)[station]) return;  // every station has one, or none
  const double height = *(*heights)[station];
  const bike::Pose& pose = motion.poses[station];
  const Point up = perp(pose.ground);
  add_line(scene, pose, Part::transfer, "load transfer", height);
  add_share(scene, motion, station, Part::braking, "braking", {Curve::anti_rise});
  // Over the place along the frame that it has by the layout, so high over the ground.
  const double y = (height + dot(up, pose.rear_contact) - up.x * layout.cg.x) / up.y;
  scene.discs.push_back({Part::cg, "centre of gravity", {layout.cg.x, y}, cg_mark});
}

void add_driving_line(Scene& scene, const bike::Motion& motion, std::size_t station, int gear) {
  add_share(scene, motion, station, Part::driving, "driving", {Curve::anti_squat, gear});
}

}  // namespace trammel::report
