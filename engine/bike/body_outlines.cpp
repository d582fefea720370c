#include "bike/body_outlines.hpp"

#include "bike/room.hpp"

namespace trammel::bike {

std::vector<BodyOutline> body_outlines(const Layout& layout, const std::vector<Body>& bodies,
                                       const std::vector<linkage::Point>& position) {
  if (bodies.empty()) return {};
  const Room room(make_model(layout), bodies, {}, {});
  std::vector<linkage::Point> ratios, corners;
  room.measure(layout.mechanism.points, ratios);
  room.outline(position, ratios, corners);
  std::vector<BodyOutline> out;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    BodyOutline outline{bodies[i].name, room.shapes()[i].solid, {}};
    for (const Room::Piece& piece : room.shapes()[i].pieces)
      outline.parts.push_back(
          {corners[static_cast<std::size_t>(piece.from)], corners[static_cast<std::size_t>(piece.to)], piece.radius});
    out.push_back(std::move(outline));
  }
  return out;
}

}  // namespace trammel::bike
