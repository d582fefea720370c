#include "report/scene.hpp"

#include <algorithm>
#include <cmath>

#include "bike/sprocket.hpp"

namespace trammel::report {

using bike::Point;

namespace {

/// Convex hull, counter-clockwise (Andrew's monotone chain).
std::vector<Point> outline(std::vector<Point> points) {
  if (points.size() < 3) return points;
  std::sort(points.begin(), points.end(), [](Point a, Point b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  std::vector<Point> hull;
  for (int pass = 0; pass < 2; ++pass) {
    const std::size_t start = hull.size();
    for (const Point& p : points) {
      while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0) {
        hull.pop_back();
      }
      hull.push_back(p);
    }
    hull.pop_back();  // the next pass starts with it
    std::reverse(points.begin(), points.end());
  }
  return hull;
}

/// The chain's straight run from a circle at `a` to one at `b`, seen with the drive side towards the reader and the
/// bike facing right. Radii count + where the chain runs over the circle, − where it runs under.
std::vector<Point> chain_span(Point a, double ra, Point b, double rb) {
  const Point between = b - a;
  const double distance = norm(between), sine = (ra - rb) / distance;
  if (!(std::abs(sine) < 1.0)) return {};
  const Point along = between * (1.0 / distance);
  // The normal on which both circles carry the tangent: n·(b − a) = ra − rb.
  const Point normal = along * sine + perp(along) * std::sqrt(1.0 - sine * sine);
  return {a + normal * ra, b + normal * rb};
}

void add_chain(Scene& scene, const bike::Layout& layout, const bike::Pose& pose, const bike::Gear& gear) {
  const Point axle = pose.points[static_cast<std::size_t>(layout.axle.point)], ring{};
  const double cog_radius = bike::pitch_radius(gear.cog), ring_radius = bike::pitch_radius(gear.chainring);
  scene.discs.push_back({Part::chain, "cog", axle, cog_radius});
  scene.discs.push_back({Part::chain, "chainring", ring, ring_radius});
  const auto add_span = [&](Point a, double ra, Point b, double rb) {
    auto run = chain_span(a, ra, b, rb);
    if (!run.empty()) scene.strokes.push_back({Part::chain, "chain", std::move(run)});
  };
  if (const auto& idler = layout.drivetrain.idler) {
    const Point centre = pose.points[static_cast<std::size_t>(idler->point)];
    const double radius = bike::pitch_radius(idler->teeth), side = idler->over ? radius : -radius;
    scene.discs.push_back({Part::chain, "idler", centre, radius});
    add_span(axle, cog_radius, centre, side);
    add_span(centre, side, ring, ring_radius);
  } else {
    add_span(axle, cog_radius, ring, ring_radius);
  }
  if (const auto& roller = layout.drivetrain.roller) {
    const Point centre = pose.points[static_cast<std::size_t>(roller->point)];
    const double radius = bike::pitch_radius(roller->teeth), side = roller->over ? radius : -radius;
    scene.discs.push_back({Part::chain, "roller", centre, radius});
    add_span(axle, -cog_radius, centre, side);
    add_span(centre, side, ring, -ring_radius);
  }
}

void add_fork(Scene& scene, const bike::Layout& layout, const bike::Pose& pose) {
  const double angle = math::radians(layout.front.head_angle);
  const Point up{-std::cos(angle), std::sin(angle)};
  if (!layout.front.head_tube) {
    // Only the direction is known: the steering axis has no place of its own.
    scene.strokes.push_back(
        {Part::fork, "fork", {pose.front_axle, pose.front_axle + up * (1.5 * layout.front_radius)}});
    return;
  }
  const Point top = layout.front.head_tube->top;
  const Point foot = top + up * dot(pose.front_axle - top, up);
  scene.strokes.push_back({Part::fork, "steering_axis", {top, foot, pose.front_axle}});
}

/// As high as the head tube where that is known, else as long as the fork is drawn.
void add_seat_line(Scene& scene, const bike::Layout& layout) {
  if (!layout.seat_angle) return;
  const double angle = math::radians(*layout.seat_angle);
  const Point up{-std::cos(angle), std::sin(angle)};
  const double length = layout.front.head_tube ? layout.front.head_tube->top.y / up.y : 1.5 * layout.rear_radius;
  scene.strokes.push_back({Part::seat_line, "seat_line", {{}, up * length}});
}

}  // namespace

const bike::Gear* drawn_gear(const bike::Layout& layout, const std::vector<objectives::Target>& targets) {
  const auto& gears = layout.drivetrain.gears;
  for (const auto& target : targets) {
    const bool at_sag = !target.over && target.at.kind == objectives::Station::Kind::sag;
    if (!target.measure && target.curve.gear >= 0 && at_sag) return &gears[static_cast<std::size_t>(target.curve.gear)];
  }
  return gears.empty() ? nullptr : &gears.front();
}

Point cg_in_frame(const bike::Layout& layout, const bike::Pose& topped_out) {
  const Point t = topped_out.ground, contact = topped_out.rear_contact;
  return {layout.cg.x, contact.y + (layout.cg.height + (layout.cg.x - contact.x) * t.y) / t.x};
}

Scene chain_scene(const bike::Layout& layout, const bike::Pose& pose, const bike::Gear& gear) {
  Scene scene;
  add_chain(scene, layout, pose, gear);
  return scene;
}

void add_bodies(Scene& scene, const std::vector<bike::BodyOutline>& bodies) {
  for (const bike::BodyOutline& body : bodies) {
    if (body.solid) {
      Stroke polygon{Part::body, body.name, {}, true};
      for (const auto& side : body.parts) polygon.points.push_back(side.from);
      scene.strokes.push_back(std::move(polygon));
      continue;
    }
    for (const auto& part : body.parts) {
      const Point along = part.to - part.from;
      const double length = norm(along);
      scene.discs.push_back({Part::body, body.name, part.from, part.radius});
      if (length == 0.0) continue;
      scene.discs.push_back({Part::body, body.name, part.to, part.radius});
      const Point side = perp(along) * (part.radius / length);
      for (const Point& off : {side, -side})
        scene.strokes.push_back({Part::body, body.name, {part.from + off, part.to + off}});
    }
  }
}

Scene make_scene(const bike::Layout& layout, const bike::Pose& pose, const bike::Gear* gear) {
  Scene scene;
  const auto& mechanism = layout.mechanism;
  const auto at = [&](int point) { return pose.points[static_cast<std::size_t>(point)]; };

  const Point beyond = pose.ground * (0.35 * layout.rear_radius);
  scene.strokes.push_back({Part::ground, "ground", {pose.rear_contact - beyond, pose.front_contact + beyond}});
  scene.discs.push_back({Part::rear_wheel, "rear_wheel", at(layout.axle.point), layout.rear_radius});
  scene.discs.push_back({Part::front_wheel, "front_wheel", pose.front_axle, layout.front_radius});
  add_fork(scene, layout, pose);
  add_seat_line(scene, layout);

  for (std::size_t m = 0; m < mechanism.members.size(); ++m) {
    const auto& member = mechanism.members[m];
    const bool is_frame = static_cast<int>(m) == mechanism.frame;
    std::vector<Point> points;
    for (const int p : member.points) points.push_back(at(p));
    if (is_frame) {
      points.push_back({});  // the bottom bracket
      if (layout.front.head_tube) points.push_back(layout.front.head_tube->top);
    }
    if (points.size() < 2) continue;
    points = outline(points);
    const bool closed = points.size() > 2;
    scene.strokes.push_back({is_frame ? Part::frame : Part::link, member.name, std::move(points), closed});
  }
  const bool has_shock = mechanism.drive.kind == linkage::DriveKind::shock;
  if (has_shock) {
    scene.strokes.push_back({Part::shock, "shock", {at(mechanism.drive.a), at(mechanism.drive.b)}});
  }
  if (gear) add_chain(scene, layout, pose, *gear);

  for (std::size_t i = 0; i < mechanism.points.size(); ++i) {
    const int point = static_cast<int>(i);
    int carriers = 0;
    bool on_frame = false;
    for (std::size_t m = 0; m < mechanism.members.size(); ++m) {
      const auto& points = mechanism.members[m].points;
      if (std::find(points.begin(), points.end(), point) == points.end()) continue;
      ++carriers;
      on_frame = on_frame || static_cast<int>(m) == mechanism.frame;
    }
    const bool eye = has_shock && (point == mechanism.drive.a || point == mechanism.drive.b);
    scene.joints.push_back({mechanism.point_names[i], pose.points[i], eye || carriers > 1, on_frame});
  }
  return scene;
}

}  // namespace trammel::report
