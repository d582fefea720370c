#include "report/dxf.hpp"

#include "report/dxf_writer.hpp"
#include "report/scene.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Point;

constexpr double pivot_mark = 6.0;  // radius of a pivot's circle, mm; it is a mark, not a bearing
constexpr double letter_height = 10.0;

const char* layer_of(Part part) {
  switch (part) {
    case Part::frame:
    case Part::seat_line:
    case Part::tube:
      return "FRAME";
    case Part::link:
      return "LINKS";
    case Part::shock:
      return "SHOCK";
    case Part::rear_wheel:
    case Part::front_wheel:
      return "WHEELS";
    case Part::fork:
      return "FORK";
    case Part::ground:
      return "GROUND";
    case Part::chain:
      return "CHAIN";
    case Part::body:
      return "BODIES";
    case Part::transfer:
    case Part::driving:
    case Part::braking:
    case Part::cg:
      break;
  }
  return "0";
}

void add_scene(Dxf& dxf, const Scene& scene, const std::string& suffix) {
  for (const auto& stroke : scene.strokes) {
    // They stand still.
    if ((stroke.part == Part::frame || stroke.part == Part::seat_line) && !suffix.empty()) continue;
    const std::string layer = layer_of(stroke.part) + suffix;
    for (std::size_t i = 0; i + 1 < stroke.points.size(); ++i) dxf.line(layer, stroke.points[i], stroke.points[i + 1]);
    if (stroke.closed) dxf.line(layer, stroke.points.back(), stroke.points.front());
  }
  for (const auto& disc : scene.discs) {
    const bool stands_still = disc.centre.x == 0.0 && disc.centre.y == 0.0;
    if (!stands_still || suffix.empty()) dxf.circle(layer_of(disc.part) + suffix, disc.centre, disc.radius);
  }
  for (const auto& joint : scene.joints) {
    const std::string layer = pivot_layer + suffix;
    dxf.point(layer, joint.at);
    if (joint.pivot) dxf.circle(layer, joint.at, pivot_mark);
    if (suffix.empty()) dxf.words(name_layer, joint.at + name_offset(), joint.name, letter_height);
  }
}

Dxf::Look look_of(const std::string& layer) {
  if (layer.ends_with("_SAG")) return {"DASHED", 5};
  if (layer.ends_with("_BOTTOMED")) return {"DOTTED", 30};
  return {};
}

}  // namespace

bike::Point name_offset() {
  return {pivot_mark + 2.0, pivot_mark};
}

std::string drawing_dxf(const search::Sheet& sheet, const bike::Gear* gear) {
  Dxf dxf("lengths in mm, frame axes: origin at the bottom bracket, x forward, y up");
  add_scene(dxf, make_scene(sheet.layout, sheet.topped_out, gear), "");
  add_scene(dxf, make_scene(sheet.layout, sheet.at_sag, gear), "_SAG");
  add_scene(dxf, make_scene(sheet.layout, sheet.bottomed, gear), "_BOTTOMED");
  const auto add_outlines = [&](const std::vector<bike::BodyOutline>& bodies, const char* suffix) {
    Scene outlines;
    add_bodies(outlines, bodies);
    add_scene(dxf, outlines, suffix);
  };
  add_outlines(sheet.bodies_topped_out, "");
  add_outlines(sheet.bodies_at_sag, "_SAG");
  add_outlines(sheet.bodies_bottomed, "_BOTTOMED");
  dxf.point(name_layer, {});
  dxf.words(name_layer, {8.0, -16.0}, "BB", letter_height);
  const Point corner = sheet.topped_out.rear_contact + Point{0.0, -60.0};
  dxf.words(name_layer, corner, "UNITS MM", letter_height);
  dxf.words(name_layer, corner + Point{0.0, -20.0}, drawing_name(sheet), letter_height);
  return dxf.whole(look_of);
}

}  // namespace trammel::report
