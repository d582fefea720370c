// A planar linkage as its designer draws it: points, and the rigid members that carry them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "math/vec2.hpp"

namespace trammel::linkage {

using math::Vec2;
using Point = Vec2<double>;

/// A rigid body. Two members that list the same point are joined there by a pivot.
struct Member {
  std::string name;
  std::vector<int> points;  ///< indices into Mechanism::points; at least one
};

/// A point kept on the straight line through two points of a member (a rail, a slot).
struct Slider {
  int point = -1;
  int member = -1;
  int along_a = -1;  ///< the line runs from this point of the member …
  int along_b = -1;  ///< … through this one
};

/// What moves the linkage. The driving coordinate s starts at 0 topped out.
enum class DriveKind {
  shock,   ///< s = shock compression in mm: the distance a–b is its drawn value − s (+ s for a shock that extends)
  travel,  ///< s = rise of `point` along y in mm, without a shock
  turn,    ///< s = rotation of `member` about its only pivot on a known point, radians, counter-clockwise positive
};

struct Drive {
  DriveKind kind = DriveKind::shock;
  int a = -1;            ///< shock: one eye
  int b = -1;            ///< shock: the other eye
  bool extends = false;  ///< shock: gets longer with travel
  int point = -1;        ///< travel: the point that rises
  int member = -1;       ///< turn: the member that turns
  double range = 0.0;    ///< s at the other end of the motion (the shock's stroke, the travel, or the turn); ≠ 0
};

struct Mechanism {
  std::vector<std::string> point_names;
  std::vector<Point> points;  ///< topped out, frame axes, mm
  std::vector<Member> members;
  int frame = 0;  ///< which member is held still
  std::vector<Slider> sliders;
  /// Joints whose two parts may come into line and part again on the other side. Which side that is follows from the
  /// rest of the linkage: it is found by Newton's method from the position before.
  std::vector<int> through_line;
  Drive drive;
};

/// Whether a point is kept on a line.
bool slides(const Mechanism& mechanism, int point);

/// The points at which parts turn on each other: those that members share, and the shock's eyes; rising.
std::vector<int> pivots(const Mechanism& mechanism);

}  // namespace trammel::linkage
