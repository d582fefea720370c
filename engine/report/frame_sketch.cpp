#include "report/frame_sketch.hpp"

#include <algorithm>
#include <cmath>

namespace trammel::report {

using bike::Point;

namespace {

// Common practice, no source: what tubes and tyres look like. mm, but where said.
constexpr double shell = 48.0, head = 46.0, down = 52.0, seat = 36.0, top = 38.0, post = 26.0, saddle = 30.0;
constexpr double stem = 30.0, leg = 34.0, lower_leg = 46.0, bracket = 28.0, link = 18.0;
constexpr double tyre = 0.15;  ///< of the wheel's radius
constexpr double head_tube_length = 110.0;
constexpr double offset_part = 0.12;      ///< fork's offset, of the front wheel's radius
constexpr double crown_over_tyre = 25.0;  ///< with the fork bottomed
constexpr double upright = 75.0;          ///< seat tube where the brief gives no angle, degrees
constexpr double seat_tube_part = 0.68;   ///< of the stack

struct Axis {
  Point from, to;
};

/// Along the steering axis, from its upper end. Where the layout does not say, the fork is as long as clears its tyre.
Axis head_tube_of(const bike::Layout& layout, Point downward, Point ahead) {
  const bike::Front& front = layout.front;
  if (const auto& tube = front.head_tube)
    return {tube->top, tube->top + downward * tube->length.value_or(head_tube_length)};
  const double fork = layout.front_radius + front.travel + crown_over_tyre;
  const Point lower = front.axle - downward * fork - ahead * (offset_part * layout.front_radius);
  return {lower - downward * head_tube_length, lower};
}

/// The point of an axis that is nearest to `p`.
Point nearest_on(const Axis& axis, Point p) {
  const Point along = axis.to - axis.from;
  return axis.from + along * std::clamp(dot(p - axis.from, along) / dot(along, along), 0.0, 1.0);
}

/// Tubes of one layout in one pose.
class Sketch {
 public:
  Sketch(Scene& scene, const bike::Layout& layout, const bike::Pose& pose)
      : scene_(scene), layout_(layout), pose_(pose) {}

  void draw() {
    const double steering = math::radians(layout_.front.head_angle);
    const Point downward{std::cos(steering), -std::sin(steering)}, ahead{std::sin(steering), std::cos(steering)};
    const Axis head_tube = head_tube_of(layout_, downward, ahead);
    const Point upper = head_tube.from, lower = head_tube.to;
    fork(lower, downward, ahead);

    const double lean = math::radians(layout_.seat_angle.value_or(upright));
    const Point up{-std::cos(lean), std::sin(lean)};
    const double height = seat_tube_part * upper.y / up.y;
    const Axis down_tube{lower - downward * 32.0, {}}, seat_tube{{}, up * height},
        top_tube{upper + downward * 26.0, up * (height - 40.0)};
    seat_post(up, height);
    add("stem", stem, {upper, upper - downward * 34.0, upper - downward * 40.0 + ahead * 40.0});
    brackets({down_tube, seat_tube, top_tube});
    add("top_tube", top, {top_tube.from, top_tube.to});
    add("seat_tube", seat, {seat_tube.from, seat_tube.to});
    add("down_tube", down, {down_tube.from, down_tube.to});
    add("head_tube", head, {head_tube.from, head_tube.to});
    scene_.discs.push_back({Part::tube, "shell", {}, 0.5 * shell});
  }

 private:
  void add(const char* name, double width, std::vector<Point> axis) {
    scene_.strokes.push_back({Part::tube, name, std::move(axis), false, width});
  }

  /// Legs beside the steering axis by the fork's offset, from the crown, which is the frame's, to the axle, which
  /// moves.
  void fork(Point lower, Point downward, Point ahead) {
    const Point axle = pose_.front_axle, crown = lower + downward * 34.0;
    const double offset = dot(axle - lower, ahead);
    const Point leg_top = crown + ahead * offset;
    add("crown", leg, {lower, crown, leg_top});
    add("leg", leg, {leg_top, axle});
    add("lower_leg", lower_leg, {axle + (leg_top - axle) * 0.5, axle});
  }

  void seat_post(Point up, double height) {
    const Point over = up * (height + 110.0);
    add("seat_post", post, {up * height, over});
    add("saddle", saddle, {over + Point{-150.0, 8.0}, over + Point{110.0, 0.0}});
  }

  void brackets(const std::vector<Axis>& tubes) {
    const auto& mechanism = layout_.mechanism;
    for (const int number : mechanism.members[static_cast<std::size_t>(mechanism.frame)].points) {
      const Point p = pose_.points[static_cast<std::size_t>(number)];
      const auto far = [&](const Axis& tube) { return norm(nearest_on(tube, p) - p); };
      const Axis& tube = *std::min_element(tubes.begin(), tubes.end(),
                                           [&](const Axis& one, const Axis& other) { return far(one) < far(other); });
      const Point foot = nearest_on(tube, p), along = tube.to - tube.from;
      const Point wide = along * (1.2 * bracket / norm(along));
      scene_.strokes.push_back({Part::tube, "bracket", {foot - wide, p, foot + wide}, true, 0.0});
      add("bracket", bracket, {foot, p});
    }
  }

  Scene& scene_;
  const bike::Layout& layout_;
  const bike::Pose& pose_;
};

}  // namespace

void sketch_frame(Scene& scene, const bike::Layout& layout, const bike::Pose& pose) {
  for (Stroke& stroke : scene.strokes)
    if (stroke.part == Part::link) stroke.width = link;
  for (Disc& disc : scene.discs)
    if (disc.part == Part::rear_wheel || disc.part == Part::front_wheel) disc.width = tyre * disc.radius;
  std::erase_if(scene.strokes, [](const Stroke& s) {
    return s.part == Part::frame || s.part == Part::fork || s.part == Part::seat_line;
  });
  Sketch(scene, layout, pose).draw();
}

}  // namespace trammel::report
