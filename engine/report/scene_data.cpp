#include "report/scene_data.hpp"

#include <cmath>

namespace trammel::report {

const char* name_of(Part part) {
  switch (part) {
    case Part::frame:
      return "frame";
    case Part::seat_line:
      return "seat";
    case Part::link:
      return "link";
    case Part::shock:
      return "shock";
    case Part::rear_wheel:
    case Part::front_wheel:
      return "wheel";
    case Part::fork:
      return "fork";
    case Part::ground:
      return "ground";
    case Part::chain:
      return "chain";
    case Part::body:
      return "body";
    case Part::tube:
      return "tube";
    case Part::transfer:
      return "transfer";
    case Part::driving:
      return "driving";
    case Part::braking:
      return "braking";
    case Part::cg:
      return "cg";
  }
  return "";
}

Json placed(double x, double per_mm) {
  return std::round(x * per_mm) / per_mm;
}

Json parts_of(const Scene& scene) {
  Json strokes = Json::array(), discs = Json::array(), joints = Json::array();
  for (const Stroke& s : scene.strokes)
    strokes.push_back({{"part", name_of(s.part)},
                       {"name", s.name},
                       {"points", s.points.size()},
                       {"closed", s.closed},
                       {"width", placed(s.width)}});
  for (const Disc& d : scene.discs)
    discs.push_back(
        {{"part", name_of(d.part)}, {"name", d.name}, {"radius", placed(d.radius)}, {"width", placed(d.width)}});
  for (const Joint& j : scene.joints) joints.push_back({{"name", j.name}, {"pivot", j.pivot}, {"frame", j.on_frame}});
  return {{"strokes", std::move(strokes)}, {"discs", std::move(discs)}, {"joints", std::move(joints)}};
}

Json places_of(const Scene& scene, double per_mm) {
  Json out = Json::array();
  const auto add = [&](bike::Point p) {
    out.push_back(placed(p.x, per_mm));
    out.push_back(placed(p.y, per_mm));
  };
  for (const Stroke& s : scene.strokes)
    for (const bike::Point& p : s.points) add(p);
  for (const Disc& d : scene.discs) add(d.centre);
  for (const Joint& j : scene.joints) add(j.at);
  return out;
}

}  // namespace trammel::report
