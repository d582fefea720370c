#include "bike/model.hpp"

#include <algorithm>
#include <cmath>

#include "bike/sprocket.hpp"

namespace trammel::bike {
namespace {

std::vector<int> chain_neighbours(const Layout& layout) {
  const Drivetrain& train = layout.drivetrain;
  if (!train.clear_of.empty()) return train.clear_of;
  std::vector<int> points;
  for (int p : linkage::pivots(layout.mechanism))
    if (p != layout.axle.point && (!train.idler || p != train.idler->point) &&
        (!train.roller || p != train.roller->point))
      points.push_back(p);
  return points;
}

bool lists(const linkage::Member& member, int point) {
  return std::find(member.points.begin(), member.points.end(), point) != member.points.end();
}

std::vector<int> pin_members(const Layout& layout, int point) {
  const linkage::Mechanism& m = layout.mechanism;
  const auto others = [&] {
    const auto& idler = layout.drivetrain.idler;
    const bool eye = m.drive.kind == linkage::DriveKind::shock && (m.drive.a == point || m.drive.b == point);
    const bool shoe =
        std::any_of(m.sliders.begin(), m.sliders.end(), [&](const linkage::Slider& s) { return s.point == point; });
    return eye || shoe || layout.axle.point == point || (idler && idler->point == point);
  };
  std::vector<int> out;
  for (int k = 0; k < static_cast<int>(m.members.size()); ++k)
    if (k != m.frame && lists(m.members[static_cast<std::size_t>(k)], point)) out.push_back(k);
  if (lists(m.members[static_cast<std::size_t>(m.frame)], point)) out.push_back(m.frame);
  if (others()) return out;
  if (out.size() < 2) return {};
  if (out.size() == 2) out.pop_back();
  return out;
}

/// The spans of idler and roller, for the gears in which their neighbours are largest. Both other radii of the slack
/// run are negative.
std::vector<ChainSpan> led_spans(const std::vector<ChainCircles>& circles) {
  std::vector<ChainSpan> spans;
  if (circles.empty()) return spans;
  const auto add = [&](bool of_roller, auto&& difference) {
    ChainSpan to_cog{true, 0.0, of_roller}, to_ring{false, 0.0, of_roller};
    for (const ChainCircles& c : circles) {
      to_cog.difference = std::max(to_cog.difference, std::abs(difference(c, c.cog)));
      to_ring.difference = std::max(to_ring.difference, std::abs(difference(c, c.ring)));
    }
    spans.push_back(to_cog);
    spans.push_back(to_ring);
  };
  if (circles.front().has_idler) add(false, [](const ChainCircles& c, double radius) { return radius - c.idler; });
  if (circles.front().has_roller) add(true, [](const ChainCircles& c, double radius) { return -radius - c.roller; });
  return spans;
}

double signed_radius(const Idler& idler) {
  return idler.over ? pitch_radius(idler.teeth) : -pitch_radius(idler.teeth);
}

}  // namespace

std::string Model::joint_name(std::size_t joint) const {
  if (joint < program.joints.size()) return program.joints[joint].name;
  const ChainSpan& span = spans[joint - program.joints.size()];
  return std::string("the chain between ") + (span.of_roller ? "roller" : "idler") + " and " +
         (span.to_cog ? "cog" : "chainring");
}

ChainCircles chain_circles(const Drivetrain& drivetrain, const Gear& gear) {
  ChainCircles c;
  c.cog = pitch_radius(gear.cog);
  c.ring = pitch_radius(gear.chainring);
  if (const auto& idler = drivetrain.idler) {
    c.has_idler = true;
    c.idler = signed_radius(*idler);
  }
  if (const auto& roller = drivetrain.roller) {
    c.has_roller = true;
    c.roller = signed_radius(*roller);
  }
  return c;
}

Model make_model(const Layout& layout) {
  const Point steering = math::unit(math::pi - math::radians(layout.front.head_angle));
  Model model{layout, linkage::compile(layout.mechanism), {}, {}, steering, chain_neighbours(layout), {}};
  if (auto& shock = model.layout.shock; shock && shock->spring) shock->spring->stroke = shock->stroke;
  for (const Gear& gear : layout.drivetrain.gears) model.circles.push_back(chain_circles(layout.drivetrain, gear));
  model.spans = led_spans(model.circles);
  for (int p = 0; p < static_cast<int>(layout.mechanism.points.size()); ++p)
    model.pins.push_back(pin_members(layout, p));
  return model;
}

}  // namespace trammel::bike
