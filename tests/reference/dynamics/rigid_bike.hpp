// A bike of rigid bodies in the plane, moved by Simbody. The library's headers need C++17, so this one names none of
// them and nothing of the project.
#pragma once

namespace trammel::test {

struct Place {
  double x = 0.0, y = 0.0;
};

/// Metres and kilograms, on level ground at y = 0, forward +x, standing as drawn. A four-bar's wheel is carried by the
/// member axle–stay–tail, a single pivot's by axle–main.
struct RigidBike {
  Place axle, main, stay, tail, rocker;
  bool four_bar = false;
  Place front_axle, mass_centre, ring;
  double rear_radius = 0.0, front_radius = 0.0, cog_radius = 0.0, ring_radius = 0.0;
  double mass = 0.0, inertia = 0.0;  ///< of frame and rider; the other parts have a thousand-millionth of it
};

/// What drives or brakes: the chain's tension in N; the torque in N·m that the caliper puts on the wheel,
/// counter-clockwise, and the wheel on the member that carries it.
struct Push {
  double tension = 0.0, torque = 0.0;
};

struct Moved {
  double forward = 0.0;  ///< of the rear axle, m
  Place axle;            ///< the rear axle's movement as the frame sees it, m, in axes that lay level at the start
};

/// Moves the bike from rest. The rear wheel rolls, the front one slides without friction, the fork stands still; there
/// is no spring and no weight.
Moved accelerate(const RigidBike& bike, const Push& push, double seconds);

}  // namespace trammel::test
