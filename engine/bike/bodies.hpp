// Bodies that need room: tubes, tyre, shock, chain, a rider's leg, in side view; and what room is asked for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linkage/mechanism.hpp"

namespace trammel::bike {

/// A place on the bike: a linkage point, or a place as drawn in frame axes, mm, that a member carries along.
struct Spot {
  int point = -1;
  int member = -1;    ///< when `point` is −1
  linkage::Point at;  ///< likewise, topped out
};

enum class BodyKind {
  circle,   ///< about one spot
  tube,     ///< from a spot to another, with round ends; also a link with its bosses
  polygon,  ///< three corners or more, with what is inside
  tyre,     ///< the rear wheel's circle
  shock,    ///< its body from one eye on, and its shaft as far as the other
  chain,    ///< the straight spans of the driving run in a gear
};

struct Body {
  std::string name;
  BodyKind kind = BodyKind::circle;
  std::vector<Spot> spots;             ///< of a circle one, of a tube two, of a polygon its corners
  double diameter = 0.0;               ///< mm; of a shock its body's, of a chain its height
  std::optional<linkage::Point> ends;  ///< tube: diameters of the bosses about its two ends, mm
  int eye = -1;                        ///< shock: the point from which its body starts
  double length = 0.0;                 ///< shock: of its body from that eye, mm
  double shaft = 0.0;                  ///< shock: the shaft's diameter, mm
  int gear = -1;                       ///< chain: index into Drivetrain::gears
};

}  // namespace trammel::bike
