#include "bike/loads.hpp"

#include <cmath>

#include "bike/sweep.hpp"
#include "bike/table.hpp"
#include "bike/wheel_load.hpp"

namespace trammel::bike {
namespace {

/// Intervals of the march from which the stations are reached.
constexpr int march_stations = 120;

template <class Force>
std::size_t greatest(std::size_t count, Force force) {
  std::size_t worst = 0;
  for (std::size_t i = 1; i < count; ++i)
    if (force(i) > force(worst)) worst = i;
  return worst;
}

/// Room for the loads of a case, its pivots in the order of points and members.
CaseLoads prepared(const Model& model, const LoadCase& load) {
  CaseLoads out;
  out.of = load;
  out.shoes.resize(model.layout.mechanism.sliders.size());
  for (std::size_t p = 0; p < model.pins.size(); ++p)
    for (const int member : model.pins[p]) out.pivots.push_back({static_cast<int>(p), member, {}, 0});
  if (linkage::slides(model.layout.mechanism, model.layout.axle.point))
    out.pivots.push_back({model.layout.axle.point, PivotLoad::wheel, {}, 0});
  return out;
}

}  // namespace

std::vector<CaseLoads> pivot_loads(const Layout& layout, int stations) {
  std::vector<CaseLoads> out;
  if (!layout.shock || layout.loads.cases.empty()) return out;
  const Motion motion = trace(layout, stations, false);  // throws when it does not move through its stroke
  const Model model = make_model(layout);
  const linkage::Program& program = model.program;
  Sweep<double> sweep(model, march_stations);
  sweep.march(layout.mechanism.points, [](std::size_t, const linkage::State<double>&) {});
  linkage::Forces<double> forces;
  forces.resize(program);
  for (const LoadCase& load : layout.loads.cases) out.push_back(prepared(model, load));
  const Wanted nothing = Wanted::nothing(model.circles.size());
  for (const Pose& pose : motion.poses) {
    sweep.at(pose.shock, nothing);
    const linkage::Geometry<double>& geometry = sweep.geometry();
    const linkage::State<double>& state = sweep.state();
    const Ground<double> ground = find_ground(state.position[static_cast<std::size_t>(layout.axle.point)],
                                              pose.front_axle, layout.rear_radius, layout.front_radius);
    for (CaseLoads& one : out) {
      put_load(model, one.of, ground, state.position, forces);
      balance(program, geometry, state, forces);
      one.travel.push_back(pose.travel);
      one.shock.push_back(pose.shock);
      one.shock_force.push_back(forces.drive);
      for (std::size_t i = 0; i < one.shoes.size(); ++i)
        one.shoes[i].push_back(shoe_force(program, geometry, state, forces, static_cast<int>(i)));
      for (PivotLoad& pivot : one.pivots)
        pivot.force.push_back(pivot.member == PivotLoad::wheel
                                  ? Point(-forces.outside[static_cast<std::size_t>(pivot.point)])
                                  : pin_force(program, geometry, state, forces, pivot.member, pivot.point));
    }
  }
  for (CaseLoads& one : out) {
    one.worst_shock = greatest(one.travel.size(), [&](std::size_t i) { return std::abs(one.shock_force[i]); });
    for (PivotLoad& pivot : one.pivots)
      pivot.worst = greatest(one.travel.size(), [&](std::size_t i) { return norm(pivot.force[i]); });
  }
  return out;
}

}  // namespace trammel::bike
