#include "tests/reference/dynamics/rigid_bike.hpp"

#include <Simbody.h>

#include <cmath>

namespace trammel::test {
namespace {

using SimTK::Transform;
using SimTK::Vec3;

constexpr double share = 1e-9;  ///< mass and inertia of a part that has none, of the rider's

Vec3 vec(const Place& p) {
  return {p.x, p.y, 0.0};
}

/// Chain from cog to chainring, and the brake's torque between wheel and its member.
class PushForce : public SimTK::Force::Custom::Implementation {
 public:
  PushForce(const SimTK::MobilizedBody& wheel, const SimTK::MobilizedBody& frame, const SimTK::MobilizedBody& caliper,
            const Vec3& ring, const RigidBike& bike, const Push& push)
      : wheel_(wheel), frame_(frame), caliper_(caliper), ring_(ring), bike_(bike), push_(push) {}

  void calcForce(const SimTK::State& state, SimTK::Vector_<SimTK::SpatialVec>& bodies, SimTK::Vector_<Vec3>&,
                 SimTK::Vector&) const override {
    const Vec3 axle = wheel_.getBodyOriginLocation(state), ring = frame_.findStationLocationInGround(state, ring_);
    // The common tangent over both sprockets leans against their line of centres.
    const Vec3 d = ring - axle;
    const double angle = std::atan2(d[1], d[0]) - std::asin((bike_.cog_radius - bike_.ring_radius) / d.norm());
    const Vec3 along(std::cos(angle), std::sin(angle), 0.0), up(-std::sin(angle), std::cos(angle), 0.0);
    const Vec3 pull = along * push_.tension;
    const auto apply = [&](const SimTK::MobilizedBody& body, const Vec3& at, const Vec3& force) {
      body.applyForceToBodyPoint(state, body.findStationAtGroundPoint(state, at), force, bodies);
    };
    apply(wheel_, axle + up * bike_.cog_radius, pull);
    apply(frame_, ring + up * bike_.ring_radius, -pull);
    wheel_.applyBodyTorque(state, Vec3(0, 0, push_.torque), bodies);
    caliper_.applyBodyTorque(state, Vec3(0, 0, -push_.torque), bodies);
  }
  SimTK::Real calcPotentialEnergy(const SimTK::State&) const override { return 0.0; }

 private:
  SimTK::MobilizedBody wheel_, frame_, caliper_;
  Vec3 ring_;
  RigidBike bike_;
  Push push_;
};

}  // namespace

Moved accelerate(const RigidBike& bike, const Push& push, double seconds) {
  SimTK::MultibodySystem system;
  SimTK::SimbodyMatterSubsystem matter(system);
  SimTK::GeneralForceSubsystem forces(system);
  const Vec3 axle = vec(bike.axle), main = vec(bike.main);
  const SimTK::Body part =
      SimTK::Body::Rigid(SimTK::MassProperties(share * bike.mass, Vec3(0), SimTK::Inertia(share * bike.inertia)));
  const Vec3 centre = vec(bike.mass_centre) - main;
  const SimTK::Body rider = SimTK::Body::Rigid(
      SimTK::MassProperties(bike.mass, centre, SimTK::Inertia(bike.inertia).shiftFromMassCenter(-centre, bike.mass)));

  // A chain of pins from the wheel to the frame: over the coupler and the chainstay, or over the swingarm.
  SimTK::MobilizedBody::Planar wheel(matter.Ground(), Transform(axle), part, Transform());
  SimTK::MobilizedBody::Pin carrier(wheel, Transform(), part, Transform());
  SimTK::MobilizedBody inner = carrier;
  Vec3 origin = axle;
  if (bike.four_bar) {
    origin = vec(bike.stay);
    inner = SimTK::MobilizedBody::Pin(carrier, Transform(origin - axle), part, Transform());
  }
  SimTK::MobilizedBody::Pin frame(inner, Transform(main - origin), rider, Transform());
  if (bike.four_bar) {
    const Vec3 tail = vec(bike.tail), rocker = vec(bike.rocker);
    SimTK::Constraint::Rod(carrier, tail - axle, frame, rocker - main, (tail - rocker).norm());
  }

  // Coordinates of the wheel: turn, x, y. It stays on the ground and rolls: x + radius·turn = 0.
  SimTK::Constraint::ConstantCoordinate(wheel, SimTK::MobilizerQIndex(2), 0.0);
  SimTK::Vector rolling(3, 0.0);
  rolling[0] = bike.rear_radius;
  rolling[1] = 1.0;
  const SimTK::Array_<SimTK::MobilizedBodyIndex> bodies(2, wheel.getMobilizedBodyIndex());
  SimTK::Array_<SimTK::MobilizerQIndex> coordinates;
  coordinates.push_back(SimTK::MobilizerQIndex(0));
  coordinates.push_back(SimTK::MobilizerQIndex(1));
  SimTK::Constraint::CoordinateCoupler(matter, new SimTK::Function::Linear(rolling), bodies, coordinates);
  SimTK::Constraint::PointInPlane(matter.Ground(), SimTK::UnitVec3(0, 1, 0), bike.front_radius, frame,
                                  vec(bike.front_axle) - main);
  SimTK::Force::Custom(forces, new PushForce(wheel, frame, carrier, vec(bike.ring) - main, bike, push));

  const SimTK::State state = system.realizeTopology();
  SimTK::RungeKuttaMersonIntegrator integrator(system);
  integrator.setAccuracy(1e-9);
  integrator.setConstraintTolerance(1e-10);
  integrator.initialize(state);
  while (integrator.getTime() < seconds) integrator.stepTo(seconds);
  const SimTK::State& after = integrator.getState();
  system.realize(after, SimTK::Stage::Position);
  const Vec3 at = wheel.getBodyOriginLocation(after);
  const Vec3 moved = frame.findStationAtGroundPoint(after, at) - (axle - main);
  return {at[0] - axle[0], {moved[0], moved[1]}};
}

}  // namespace trammel::test
