// A load at the rear tyre on its way into the linkage: what of it acts on axle, idler and the caliper's member, and the
// force that a pivot then takes.
#pragma once

#include "bike/ground.hpp"
#include "bike/model.hpp"
#include "linkage/statics.hpp"
#include "math/distance.hpp"

namespace trammel::bike {

/// Puts the forces of a case on a linkage. `position` holds all points, mm; `ground` is that under them. The wheel has
/// no weight and stands still against its brake or chain: driving force · wheel radius = chain tension · cog radius,
/// braking force · wheel radius = torque between wheel and caliper's member.
template <class T>
void put_load(const Model& m, const LoadCase& load, const Ground<T>& ground, const std::vector<Vec2<T>>& position,
              linkage::Forces<T>& out) {
  const Layout& layout = m.layout;
  const auto axle = static_cast<std::size_t>(layout.axle.point);
  const auto& idler = layout.drivetrain.idler;
  const auto at_idler = static_cast<std::size_t>(idler ? idler->point : layout.axle.point);
  out.outside[at_idler] = {T(0.0), T(0.0)};
  out.outside[axle] = ground.normal * T(load.vertical) + ground.along * T(load.driving - load.braking);
  if (load.driving > 0.0 && load.gear >= 0) {
    const ChainCircles& c = m.circles[static_cast<std::size_t>(load.gear)];
    const ChainRun<T> run = chain_run(c, position[axle], idler ? position[at_idler] : Vec2<T>{T(0.0), T(0.0)});
    const T tension(load.driving * layout.rear_radius / c.cog);
    out.outside[axle] += run.spans[0].along * tension;
    if (idler) out.outside[at_idler] += (run.spans[1].along - run.spans[0].along) * tension;
  }
  out.couples[static_cast<std::size_t>(layout.brake_member)] = T(-load.braking * layout.rear_radius);
}

/// The force that the pin of a point carries under balanced forces, N: the greatest that any of its members feels. On a
/// pin that slides, a member feels the sum of what the others press with: there also the rail's own, the wheel's or
/// idler's, and the shock's.
template <class T>
T pivot_force(const Model& m, const linkage::Geometry<T>& geometry, const linkage::State<T>& state,
              const linkage::Forces<T>& forces, int point) {
  T greatest(0.0);
  for (const int member : m.pins[static_cast<std::size_t>(point)])
    greatest = math::max(greatest, squared_norm(pin_force(m.program, geometry, state, forces, member, point)));
  const linkage::Mechanism& mechanism = m.layout.mechanism;
  if (linkage::slides(mechanism, point)) {
    greatest = math::max(greatest, squared_norm(forces.outside[static_cast<std::size_t>(point)]));
    for (int i = 0; i < static_cast<int>(mechanism.sliders.size()); ++i)
      if (mechanism.sliders[static_cast<std::size_t>(i)].point == point)
        greatest = math::max(greatest, squared_norm(pin_force(m.program, geometry, state, forces,
                                                              linkage::shoe_part(m.program, i), point)));
    const linkage::Drive& drive = mechanism.drive;
    if (m.has_shock() && (drive.a == point || drive.b == point))
      greatest = math::max(greatest, forces.drive * forces.drive);
  }
  return math::detail::guarded_root(greatest);
}

}  // namespace trammel::bike
