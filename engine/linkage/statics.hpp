// Forces in a linkage at rest: what every pivot, shoe and the drive carry for given outside forces.
//
// Equilibrium of every moving member in the plane: two forces and one moment each (Norton, Design of Machinery, ch. 11,
// with the accelerations left out; from memory). Members have no weight, pins no friction.
#pragma once

#include <vector>

#include "linkage/mechanism.hpp"

namespace trammel::linkage {

/// Outside forces at one position.
struct OutsideLoads {
  struct AtPoint {
    int point = -1;
    Point force;  ///< N, on the pin there
  };
  struct Couple {
    int member = -1;
    double moment = 0.0;  ///< N·mm, counter-clockwise
  };
  std::vector<AtPoint> forces;
  std::vector<Couple> couples;
};

/// The force that a pin puts on one of the members that it joins, N, in the axes of the positions.
struct PinForce {
  int point = -1;
  int member = -1;
  Point force;
};

struct Statics {
  /// Every pin with more than one party: members, outside forces, a shoe, the drive. One entry a member.
  std::vector<PinForce> pins;
  std::vector<double> shoes;  ///< one a slider: force of the rail on the sliding point, N, along perp(b − a)
  /// What the drive must hold along its coordinate: the shock's force in N, positive in compression (in tension for one
  /// that extends); the force down at the driven point in N; the turning moment in N·mm, clockwise.
  double drive = 0.0;
  /// Largest force or moment per 100 mm left unbalanced, as a share of the outside forces; large at a dead point.
  double imbalance = 0.0;
};

/// `position` holds all points at an assembled position, mm.
Statics solve_statics(const Mechanism& mechanism, const std::vector<Point>& position, const OutsideLoads& loads);

}  // namespace trammel::linkage
