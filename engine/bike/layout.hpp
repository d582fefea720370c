// A whole bike with numbers: what a layout file says, as plain structs.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "bike/kind.hpp"
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
  Point top;                          ///< centre of its upper end, frame axes, mm
  std::optional<double> length = {};  ///< along the steering axis, mm, > 0
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

  /// What the suspension carries under a rider, kg.
  double sprung(double of_rider) const { return of_rider + bike - rear_unsprung - front_unsprung; }
};

inline constexpr double gravity = 9.80665;  ///< standard acceleration of free fall (ISO 80000-3), m/s²

struct Idler {
  int teeth = 0;
  int point = -1;    ///< linkage point of its axis; its carrier is the first member that lists it
  bool over = true;  ///< the chain runs over it (else under it)
};

struct Gear {
  int chainring = 0;
  int cog = 0;
  /// The brief offers several chainrings: `chainring` is the layout's own and no part of the name.
  bool any_ring = false;
  /// "32x18": chainring x cog; "x18" for whichever chainring is chosen.
  std::string name() const { return (any_ring ? "" : std::to_string(chainring)) + "x" + std::to_string(cog); }
};

struct Drivetrain {
  std::vector<Gear> gears;  ///< whose curves are wanted: every chainring with every cog, chainring by chainring
  std::optional<Idler> idler;
  std::optional<Idler> roller;  ///< the same on the slack run
  std::vector<int> cassette;    ///< all cogs that the bike has; empty = those of `gears`
  /// Linkage points from which the chain's distance is taken; empty = every pivot and shock eye but the axle's and the
  /// idler's points.
  std::vector<int> clear_of;
};

/// Carrier of a wheel or brake.
struct Carrier {
  int point = -1;
  int member = -1;
};

struct Shock {
  double length = 0.0;  ///< eye to eye, topped out, mm
  double stroke = 0.0;  ///< mm
  std::optional<spring::Spring> spring;
};

enum class SagOf { wheel, shock };
struct Sag {
  double fraction = 0.3;  ///< 0 … 1 of the travel (wheel) or the stroke (shock)
  SagOf of = SagOf::wheel;
};

/// Forces at the rear tyre's contact for which the pivots' reactions are wanted.
struct LoadCase {
  std::string name;
  double vertical = 0.0;  ///< the ground pushing the tyre up, N
  double braking = 0.0;   ///< the ground pushing it rearward, the wheel held by its brake, N, ≥ 0
  double driving = 0.0;   ///< the ground pushing it forward, the wheel pulled round by the chain, N, ≥ 0
  int gear = -1;          ///< driving: index into Drivetrain::gears
};

struct Loads {
  std::optional<double> landing;  ///< at the rear wheel, for the rider of `mass`, N, > 0
  std::vector<LoadCase> cases;

  /// The landing load of a rider in kg, N: it grows with the sprung mass.
  std::optional<double> landing_of(double rider, const Masses& mass) const {
    const double stated_for = mass.sprung(mass.rider), load = mass.sprung(rider);
    if (!landing || stated_for <= 0.0 || load <= 0.0) return std::nullopt;
    return *landing * load / stated_for;
  }
};

/// For whom the spring is set up, and what there is to choose from.
struct SetUpRange {
  std::vector<double> riders;                          ///< kg; empty = the rider of `mass`
  std::vector<double> coil_rates;                      ///< on offer, N/mm, rising; empty = any
  std::optional<std::pair<double, double>> pressures;  ///< that the shock may be pumped to, bar
  int most_spacers = 0;                                ///< that fit into the positive chamber
  double sag_tolerance = 0.02;                         ///< how far off the sag may be, as a fraction like the sag's
};

/// A way in which the bike can be set, by what differs from the layout as drawn.
struct Setting {
  std::string name;
  std::vector<std::pair<int, Point>> moves;  ///< linkage points, and by how much in frame axes, mm
  std::optional<Shock> shock;                ///< another length and stroke; its spring is that of the layout
  std::optional<double> rear_radius;         ///< another rear wheel, mm
};

/// A frame size, by what differs from the layout as drawn.
struct Size {
  std::string name;
  std::optional<Front> front;
  double chainstay = 0.0;      ///< by how much the rear axle lies further back, mm
  std::vector<double> riders;  ///< kg; then the only ones for whom the spring is set up, the first that of `mass`
  std::optional<CentreOfGravity> cg;
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
  double reading = 0.0;        ///< how far off its points may be along either axis, read off a picture, mm
  Carrier axle;                ///< rear axle: its point and the member that carries it
  int brake_member = -1;       ///< the member that carries the rear caliper
  std::optional<Shock> shock;  ///< absent when the linkage is driven by travel or by turning a member
  Sag sag;
  std::optional<double> seat_angle;  ///< effective, topped out, from the horizontal, degrees
  Loads loads;
  SetUpRange set_up;
  std::vector<Setting> settings;  ///< names are used once over settings and sizes; see bike/cases.hpp
  std::vector<Size> sizes;
  std::optional<Kind> kind;  ///< what it is for; absent = not said
};

}  // namespace trammel::bike
