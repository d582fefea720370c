#include "bike/loads.hpp"

#include <algorithm>
#include <cmath>

#include "bike/ground.hpp"
#include "bike/model.hpp"
#include "bike/table.hpp"

namespace trammel::bike {
namespace {

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

/// Pins that carry one force between two members need to be listed once only.
bool told_before(const linkage::Statics& statics, const linkage::PinForce& pin) {
  const auto at = [&](const linkage::PinForce& other) { return other.point == pin.point; };
  const auto first = std::find_if(statics.pins.begin(), statics.pins.end(), at);
  if (std::count_if(statics.pins.begin(), statics.pins.end(), at) != 2) return false;
  const auto second = std::find_if(first + 1, statics.pins.end(), at);
  const Point sum = first->force + second->force;
  // An outside force on the pin makes the two different.
  return pin.member == second->member && norm(sum) <= 1e-9 * (1.0 + norm(first->force));
}

template <class Force>
std::size_t greatest(std::size_t count, Force force) {
  std::size_t worst = 0;
  for (std::size_t i = 1; i < count; ++i)
    if (force(i) > force(worst)) worst = i;
  return worst;
}

CaseLoads loads_of(const Layout& layout, const LoadCase& load, const std::vector<Pose>& poses) {
  CaseLoads out;
  out.of = load;
  out.shoes.resize(layout.mechanism.sliders.size());
  std::vector<linkage::Statics> all;
  for (const Pose& pose : poses) {
    all.push_back(
        solve_statics(layout.mechanism, pose.points, outside_loads(layout, load, pose.points, pose.front_axle)));
    out.travel.push_back(pose.travel);
    out.shock.push_back(pose.shock);
    out.shock_force.push_back(all.back().drive);
    for (std::size_t i = 0; i < out.shoes.size(); ++i) out.shoes[i].push_back(all.back().shoes[i]);
  }
  out.worst_shock = greatest(poses.size(), [&](std::size_t i) { return std::abs(out.shock_force[i]); });
  for (std::size_t p = 0; p < all.front().pins.size(); ++p) {
    const linkage::PinForce& pin = all.front().pins[p];
    bool once = true;
    for (const linkage::Statics& statics : all) once = once && told_before(statics, statics.pins[p]);
    if (once) continue;
    PivotLoad pivot{pin.point, pin.member, {}, 0};
    for (const linkage::Statics& statics : all) pivot.force.push_back(statics.pins[p].force);
    pivot.worst = greatest(poses.size(), [&](std::size_t i) { return norm(pivot.force[i]); });
    out.pivots.push_back(std::move(pivot));
  }
  return out;
}

}  // namespace

linkage::OutsideLoads outside_loads(const Layout& layout, const LoadCase& load, const std::vector<Point>& position,
                                    const Point& front_axle) {
  const Point axle = position[index(layout.axle.point)];
  const Ground<double> ground = find_ground(axle, front_axle, layout.rear_radius, layout.front_radius);
  linkage::OutsideLoads out;
  Point at_axle = ground.normal * load.vertical + ground.along * (load.driving - load.braking);
  if (load.driving > 0.0 && load.gear >= 0) {
    const ChainCircles c = chain_circles(layout.drivetrain, layout.drivetrain.gears[index(load.gear)]);
    const auto& idler = layout.drivetrain.idler;
    const Point at = idler ? position[index(idler->point)] : Point{0.0, 0.0};
    const ChainRun<double> run = chain_run(c, axle, at);
    const double tension = load.driving * layout.rear_radius / c.cog;
    at_axle += run.spans[0].along * tension;
    if (idler) out.forces.push_back({idler->point, (run.spans[1].along - run.spans[0].along) * tension});
  }
  out.forces.push_back({layout.axle.point, at_axle});
  if (load.braking > 0.0) out.couples.push_back({layout.brake_member, -load.braking * layout.rear_radius});
  return out;
}

std::vector<CaseLoads> pivot_loads(const Layout& layout, int stations) {
  std::vector<CaseLoads> out;
  if (!layout.shock || layout.loads.cases.empty()) return out;
  const Motion motion = trace(layout, stations, false);
  for (const LoadCase& load : layout.loads.cases) out.push_back(loads_of(layout, load, motion.poses));
  return out;
}

}  // namespace trammel::bike
