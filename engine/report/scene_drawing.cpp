#include "report/scene_drawing.hpp"

#include <algorithm>

namespace trammel::report {

namespace {

/// Bodies of the packaging, set off from the bike's own lines.
constexpr const char* body_colour = "#7a3e9d";
constexpr const char* tube_colour = "#e3e7eb";
constexpr const char* tube_rim = "#8a96a3";
constexpr const char* link_colour = "#b9c6d2";
constexpr const char* tyre_colour = "#d9dde1";

void draw_shock(SvgCanvas& canvas, Spot a, Spot b, const Look& look, double weight) {
  const Pen rod{look.colour, 2.0 * weight, look.dash};
  canvas.line(a, b, rod);
  const Spot along = (b - a) * (1.0 / std::max(1e-9, norm(b - a)));
  const Spot side = math::perp(along) * (4.5 * weight);
  const Spot from = a + (b - a) * 0.12, to = a + (b - a) * 0.58;  // the body, so that it does not pass for a link
  canvas.polygon({from + side, to + side, to - side, from - side}, {look.colour, 1.1 * weight, look.dash}, "#ffffff",
                 0.85);
}

void draw_band(SvgCanvas& canvas, const std::vector<Spot>& path, bool closed, double width, const char* colour) {
  const Pen pen{.colour = colour, .width = width, .dash = "", .round = true};
  if (closed) {
    canvas.polygon(path, pen, colour);
  } else {
    canvas.polyline(path, pen);
  }
}

void draw_tyres(SvgCanvas& canvas, const View& view, const Scene& scene, const Pen& rim) {
  for (const Disc& disc : scene.discs) {
    if (disc.width == 0.0) continue;
    const Spot centre = view.spot(disc.centre);
    canvas.circle(centre, (disc.radius - 0.5 * disc.width) * view.scale, {tyre_colour, disc.width * view.scale, ""});
    canvas.circle(centre, (disc.radius - disc.width) * view.scale, rim);
  }
}

/// All rims below all bands, so that tubes run into one another.
void draw_tubes(SvgCanvas& canvas, const View& view, const Scene& scene, double rim) {
  for (const bool under : {true, false}) {
    const char* colour = under ? tube_rim : tube_colour;
    for (const Stroke& s : scene.strokes)
      if (s.part == Part::tube)
        draw_band(canvas, spots(view, s.points), s.closed, s.width * view.scale + (under ? 2.0 * rim : 0.0), colour);
    for (const Disc& d : scene.discs)
      if (d.part == Part::tube)
        canvas.circle(view.spot(d.centre), d.radius * view.scale + (under ? rim : 0.0), {colour, 0.0, ""}, colour);
  }
}

void draw_member(SvgCanvas& canvas, const View& view, const Stroke& stroke, const Pen& pen, bool fill) {
  const auto path = spots(view, stroke.points);
  if (fill && stroke.width > 0.0) {
    draw_band(canvas, path, stroke.closed, stroke.width * view.scale + pen.width, pen.colour.c_str());
    draw_band(canvas, path, stroke.closed, stroke.width * view.scale, link_colour);
  } else if (stroke.closed) {
    canvas.polygon(path, pen, fill ? "#cfd8e0" : "none", fill ? 0.45 : 1.0);
  } else {
    canvas.polyline(path, pen);
  }
}

void draw_stroke(SvgCanvas& canvas, const View& view, const Stroke& stroke, const Look& look, double weight,
                 bool fill_members) {
  const auto path = spots(view, stroke.points);
  switch (stroke.part) {
    case Part::tube:
      break;
    case Part::frame:
      if (fill_members) canvas.polygon(path, {"#9aa5b1", 0.8 * weight, ""}, "#e8ebee", 0.7);
      break;
    case Part::shock:
      draw_shock(canvas, path.front(), path.back(), look, weight);
      break;
    case Part::ground:
      canvas.polyline(path, {look.colour, 1.2 * weight, look.dash});
      break;
    case Part::fork:
    case Part::seat_line:
      canvas.polyline(path, {"#7b8794", 1.2 * weight, ""});
      break;
    case Part::body:
      if (stroke.closed) {
        canvas.polygon(path, {body_colour, 0.8 * weight, look.dash}, "none");
      } else {
        canvas.polyline(path, {body_colour, 0.8 * weight, look.dash});
      }
      break;
    case Part::chain:
      canvas.polyline(path, {"#7b8794", 1.0 * weight, look.dash});
      break;
    default:
      draw_member(canvas, view, stroke, {look.colour, 1.6 * weight, look.dash}, fill_members);
  }
}

}  // namespace

void draw_scene(SvgCanvas& canvas, const View& view, const Scene& scene, const Look& look, double weight,
                bool fill_members) {
  draw_tyres(canvas, view, scene, {look.colour, 0.6 * weight, ""});
  draw_tubes(canvas, view, scene, 0.9 * weight);
  for (const Disc& disc : scene.discs) {
    if (disc.part == Part::tube) continue;
    const bool chain = disc.part == Part::chain, body = disc.part == Part::body;
    canvas.circle(view.spot(disc.centre), disc.radius * view.scale,
                  {chain  ? "#7b8794"
                   : body ? body_colour
                          : look.colour,
                   (chain || body ? 0.8 : 1.0) * weight, look.dash});
  }
  for (const Stroke& stroke : scene.strokes) draw_stroke(canvas, view, stroke, look, weight, fill_members);
}

void draw_joints(SvgCanvas& canvas, const View& view, const Scene& scene, double radius) {
  for (const auto& joint : scene.joints)
    canvas.circle(view.spot(joint.at), joint.pivot ? radius : 0.5 * radius, {"#1d2733", 1.2, ""},
                  joint.on_frame || !joint.pivot ? "#1d2733" : "#ffffff");
}

void draw_bottom_bracket(SvgCanvas& canvas, Spot at, double weight) {
  canvas.circle(at, 5.0 * weight, {"#1d2733", 1.2 * weight, ""}, "#ffffff");
  canvas.line({at.x - 8.0 * weight, at.y}, {at.x + 8.0 * weight, at.y}, {"#1d2733", 0.8 * weight, ""});
  canvas.line({at.x, at.y - 8.0 * weight}, {at.x, at.y + 8.0 * weight}, {"#1d2733", 0.8 * weight, ""});
}

}  // namespace trammel::report
