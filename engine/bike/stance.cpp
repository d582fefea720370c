#include "bike/stance.hpp"

#include <cmath>

#include "bike/ground.hpp"

namespace trammel::bike {

Stance stance(const Layout& layout) {
  const Front& front = layout.front;
  const Point rear = layout.mechanism.points[static_cast<std::size_t>(layout.axle.point)];
  const Ground<double> ground = find_ground(rear, front.axle, layout.rear_radius, layout.front_radius);
  Stance out;
  out.turned = math::degrees(std::atan2(ground.along.y, ground.along.x));
  out.front_higher = (front.axle.y - layout.front_radius) - (rear.y - layout.rear_radius);
  out.wheelbase = ground.wheelbase;
  out.between_tyres = norm(front.axle - rear) - layout.rear_radius - layout.front_radius;
  out.rear_ahead = rear.x > 0.0;
  if (front.head_tube) {
    const double angle = math::radians(front.head_angle);
    out.fork_offset = dot(front.axle - front.head_tube->top, Point{std::sin(angle), std::cos(angle)});
  }
  return out;
}

double level_slack(const Layout& layout) {
  return level_within + layout.reading;
}

}  // namespace trammel::bike
