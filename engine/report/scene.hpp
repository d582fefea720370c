// The bike at one pose as lines and circles in frame axes, mm: what both the SVG and the DXF draw.
#pragma once

#include <string>
#include <vector>

#include "bike/body_outlines.hpp"
#include "bike/table.hpp"
#include "objectives/target.hpp"

namespace trammel::report {

/// `seat_line`: from the bottom bracket to the saddle, of which only the direction is known. `tube`: of a sketch that
/// stands in for frame, fork and seat line (report/frame_sketch.hpp).
/// `transfer`, `driving`, `braking` and `cg`: see report/constructions.hpp.
enum class Part {
  frame,
  seat_line,
  link,
  shock,
  rear_wheel,
  front_wheel,
  fork,
  ground,
  chain,
  body,
  tube,
  transfer,
  driving,
  braking,
  cg
};

/// A line of several points; a member with three points and more is closed, through its outermost points.
struct Stroke {
  Part part;
  std::string name;
  std::vector<bike::Point> points;
  bool closed = false;
  double width = 0.0;  ///< of a band about the line, mm; 0 = a line
};

struct Disc {
  Part part;
  std::string name;
  bike::Point centre;
  double radius = 0.0;
  double width = 0.0;  ///< of a band inside the circle, mm; 0 = a line
};

struct Joint {
  std::string name;
  bike::Point at;
  bool pivot = false;     ///< two members or a member and the shock meet here
  bool on_frame = false;  ///< carried by the frame
};

struct Scene {
  std::vector<Stroke> strokes;
  std::vector<Disc> discs;
  std::vector<Joint> joints;
};

/// `gear` adds its chainring, cog and driving run; null leaves the drivetrain out.
Scene make_scene(const bike::Layout& layout, const bike::Pose& pose, const bike::Gear* gear);

/// The drivetrain alone, in one gear.
Scene chain_scene(const bike::Layout& layout, const bike::Pose& pose, const bike::Gear& gear);

/// Adds bodies: a capsule as its two sides and the circles about its ends, a polygon by its sides.
void add_bodies(Scene& scene, const std::vector<bike::BodyOutline>& bodies);

/// The gear that a drawing shows: that of the first target at sag that names one, else the first of the layout; null
/// without a drivetrain.
const bike::Gear* drawn_gear(const bike::Layout& layout, const std::vector<objectives::Target>& targets);

/// Where the centre of gravity lies in frame axes with the bike in this (topped-out) pose.
bike::Point cg_in_frame(const bike::Layout& layout, const bike::Pose& topped_out);

}  // namespace trammel::report
