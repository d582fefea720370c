#include "bike/model.hpp"

#include "bike/sprocket.hpp"

namespace trammel::bike {
namespace {

std::vector<int> chain_neighbours(const Layout& layout) {
  const Drivetrain& train = layout.drivetrain;
  if (!train.clear_of.empty()) return train.clear_of;
  std::vector<int> points;
  for (int p : linkage::pivots(layout.mechanism))
    if (p != layout.axle.point && (!train.idler || p != train.idler->point)) points.push_back(p);
  return points;
}

}  // namespace

ChainCircles chain_circles(const Drivetrain& drivetrain, const Gear& gear) {
  ChainCircles c;
  c.cog = pitch_radius(gear.cog);
  c.ring = pitch_radius(gear.chainring);
  if (const auto& idler = drivetrain.idler) {
    c.has_idler = true;
    c.idler = idler->over ? pitch_radius(idler->teeth) : -pitch_radius(idler->teeth);
  }
  return c;
}

Model make_model(const Layout& layout) {
  const Point steering = math::unit(math::pi - math::radians(layout.front.head_angle));
  Model model{layout, linkage::compile(layout.mechanism), {}, steering, chain_neighbours(layout)};
  if (auto& shock = model.layout.shock; shock && shock->spring) shock->spring->stroke = shock->stroke;
  for (const Gear& gear : layout.drivetrain.gears) model.circles.push_back(chain_circles(layout.drivetrain, gear));
  return model;
}

}  // namespace trammel::bike
