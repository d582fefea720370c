#include "bike/model.hpp"

#include "bike/sprocket.hpp"

namespace trammel::bike {

Model make_model(const Layout& layout) {
  Model model{layout, linkage::compile(layout.mechanism), {}};
  for (const Gear& gear : layout.drivetrain.gears) {
    ChainCircles c;
    c.cog = pitch_radius(gear.cog);
    c.ring = pitch_radius(gear.chainring);
    if (const auto& idler = layout.drivetrain.idler) {
      c.has_idler = true;
      c.idler = idler->over ? pitch_radius(idler->teeth) : -pitch_radius(idler->teeth);
    }
    model.circles.push_back(c);
  }
  return model;
}

}  // namespace trammel::bike
