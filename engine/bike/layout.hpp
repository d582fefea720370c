// A whole bike with numbers: what a layout file says, as plain structs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "linkage/mechanism.hpp"
#include "spring/spring.hpp"

namespace trammel::bike {

using linkage::Point;

enum class ForkFollows {
  matched,   ///< the fork has used the same fraction of its travel as the rear wheel
  extended,  ///< the fork stays topped out
  at_sag,    ///< the fork stays at sag × fork travel
};

/// The steering axis and top of the head tube, known when the front is given by reach and stack.
struct HeadTube {
  Point top;  ///< centre of the head tube's upper end, frame axes, mm
};

struct Front {
  Point axle;               ///< front axle topped out, frame axes, mm
  double head_angle = 0.0;  ///< from the horizontal, degrees, 0 < HA ≤ 90
  double travel = 0.0;      ///< fork travel along the steering axis, mm, ≥ 0
  ForkFollows follows = ForkFollows::matched;
  double sag = 0.0;                   ///< fraction of fork travel used when follows = at_sag, 0 … 1
  std::optional<HeadTube> head_tube;  ///< present when the brief gave reach and stack
};

enum class CgFollows {
  frame,   ///< fixed to the frame: its height over the ground changes as the rear compresses
  ground,  ///< its height over the ground stays what it is topped out
};

/// Centre of gravity of rider and sprung mass.
struct CentreOfGravity {
  double x = 0.0;       ///< in frame axes, topped out, mm
  double height = 0.0;  ///< over the ground, topped out, mm, > 0
  CgFollows follows = CgFollows::frame;
};

struct Masses {  ///< kg, ≥ 0
  double rider = 0.0;
  double bike = 0.0;
  double rear_unsprung = 0.0;
  double front_unsprung = 0.0;
};

struct Idler {
  int teeth = 0;
  int point = -1;    ///< linkage point of its axis; its carrier is the first member that lists it
  bool over = true;  ///< the chain runs over it (else under it)
};

struct Gear {
  int chainring = 0;
  int cog = 0;
  /// "32x18": chainring x cog.
  std::string name() const { return std::to_string(chainring) + "x" + std::to_string(cog); }
};

struct Drivetrain {
  std::vector<Gear> gears;
  std::optional<Idler> idler;
};

/// Carrier of a wheel or brake.
struct Carrier {
  int point = -1;
  int member = -1;
};

struct Shock {
  double length = 0.0;  ///< eye to eye, topped out, mm
  double stroke = 0.0;  ///< mm
  std::optional<spring::Coil> spring;
};

enum class SagOf { wheel, shock };
struct Sag {
  double fraction = 0.3;  ///< 0 … 1 of the travel (wheel) or the stroke (shock)
  SagOf of = SagOf::wheel;
};

struct Layout {
  std::string title;
  double rear_radius = 0.0;   ///< mm
  double front_radius = 0.0;  ///< mm
  Front front;
  CentreOfGravity cg;
  std::optional<Masses> mass;
  Drivetrain drivetrain;
  linkage::Mechanism mechanism;
  Carrier axle;                ///< rear axle: its point and the member that carries it
  int brake_member = -1;       ///< the member that carries the rear caliper
  std::optional<Shock> shock;  ///< absent when the linkage is driven by travel or by turning a member
  Sag sag;
};

}  // namespace trammel::bike
