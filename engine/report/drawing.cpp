#include "report/drawing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "report/digits.hpp"
#include "report/frame_sketch.hpp"
#include "report/gap_marks.hpp"
#include "report/labels.hpp"
#include "report/plot.hpp"
#include "report/scene.hpp"
#include "report/scene_drawing.hpp"
#include "report/svg_canvas.hpp"
#include "report/view.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Point;

constexpr Look topped_out_look{"topped out", "#1d2733", "", 1.0};
constexpr Look sag_look{"sag", "#0072b2", "7 3", 0.8};
constexpr Look bottomed_look{"bottomed", "#c2500a", "2 2.5", 0.8};

/// Labels with a leader where they ended up away from their spot; `colour` of the i-th.
template <class Colour>
void write_labels(SvgCanvas& canvas, const std::vector<Label>& labels, double size, Colour colour) {
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const Label& label = labels[i];
    const Spot nearest{std::clamp(label.anchor.x, label.corner.x, label.corner.x + label.width),
                       std::clamp(label.anchor.y, label.corner.y, label.corner.y + label.height)};
    if (norm(nearest - label.anchor) > 14.0) canvas.line(label.anchor, nearest, {"#4a5560", 0.7, ""});
    canvas.write({label.corner.x + 0.5 * label.width, label.corner.y + 0.82 * label.height}, label.words,
                 {size, Anchor::middle, colour(i), true, true});
  }
}

bool far_from_linkage(const Stroke& stroke) {
  return stroke.part == Part::ground || stroke.part == Part::fork || stroke.part == Part::seat_line;
}

void draw_centre(SvgCanvas& canvas, Spot at, const char* colour) {
  canvas.line({at.x - 5.0, at.y}, {at.x + 5.0, at.y}, {colour, 1.0, ""});
  canvas.line({at.x, at.y - 5.0}, {at.x, at.y + 5.0}, {colour, 1.0, ""});
}

void draw_cg(SvgCanvas& canvas, Spot at) {
  const double r = 9.0;
  canvas.circle(at, r, {"#1d2733", 1.2, ""}, "#ffffff");
  // Two filled quarters, the usual mark of a centre of gravity.
  for (const double sign : {1.0, -1.0}) {
    std::vector<Spot> quarter{at};
    for (int k = 0; k <= 8; ++k) {
      const auto u = math::unit(0.5 * math::pi * k / 8.0);
      quarter.push_back({at.x + sign * r * u.x, at.y - sign * r * u.y});
    }
    canvas.polygon(quarter, {"#1d2733", 0.5, ""}, "#1d2733");
  }
  canvas.write({at.x + r + 5.0, at.y + 4.0}, "CG topped out", {17.0});
}

void draw_scale_bar(SvgCanvas& canvas, const View& view, Spot left_end, double length) {
  const double px = length * view.scale;
  const Pen pen{"#1d2733", 1.4, ""};
  canvas.line(left_end, {left_end.x + px, left_end.y}, pen);
  for (const double x : {0.0, 0.5 * px, px}) {
    canvas.line({left_end.x + x, left_end.y - 4.0}, {left_end.x + x, left_end.y + 4.0}, pen);
  }
  canvas.write({left_end.x + px + 8.0, left_end.y + 5.5}, shown(length, 0) + " mm", {17.0});
}

/// The bodies in a pose of the sheet.
const std::vector<bike::BodyOutline>& bodies_in(const search::Sheet& sheet, const bike::Pose* pose) {
  if (pose == &sheet.topped_out) return sheet.bodies_topped_out;
  return pose == &sheet.at_sag ? sheet.bodies_at_sag : sheet.bodies_bottomed;
}

/// The poses from back to front, so that topped out lies on top.
std::array<std::pair<const bike::Pose*, const Look*>, 3> layers(const search::Sheet& sheet) {
  return {{{&sheet.bottomed, &bottomed_look}, {&sheet.at_sag, &sag_look}, {&sheet.topped_out, &topped_out_look}}};
}

Extent whole_extent(const search::Sheet& sheet) {
  Extent extent;
  for (const auto& [pose, _] : layers(sheet)) {
    extent.hold(pose->points[static_cast<std::size_t>(sheet.layout.axle.point)], sheet.layout.rear_radius);
    extent.hold(pose->front_axle, sheet.layout.front_radius);
    for (const auto& p : pose->points) extent.hold(p);
  }
  if (sheet.layout.front.head_tube) extent.hold(sheet.layout.front.head_tube->top);
  extent.hold(cg_in_frame(sheet.layout, sheet.topped_out), 25.0);
  return extent;
}

SvgCanvas whole_bike(const search::Sheet& sheet, const bike::Gear* gear, const View& view) {
  constexpr double foot = 30.0;  // room for the scale bar
  SvgCanvas canvas(view.width(), view.height() + foot);
  for (const auto& [pose, look] : layers(sheet)) {
    const bool front_most = pose == &sheet.topped_out;
    // The chain of the position where the bike is ridden, and only that, or the lines lie on top of each other.
    Scene scene = make_scene(sheet.layout, *pose, pose == &sheet.at_sag ? gear : nullptr);
    add_bodies(scene, bodies_in(sheet, pose));
    if (front_most)
      sketch_frame(scene, sheet.layout, *pose);
    else
      std::erase_if(scene.strokes, [](const Stroke& s) { return s.part == Part::fork || s.part == Part::seat_line; });
    draw_scene(canvas, view, scene, *look, look->weight, front_most);
    draw_centre(canvas, view.spot(pose->front_axle), look->colour);
    if (front_most) draw_joints(canvas, view, scene, 3.2);
  }
  draw_bottom_bracket(canvas, view.spot({}), 1.0);
  std::vector<Crossing> arrows;
  const auto gaps = draw_gaps(canvas, view, sheet.close_places, arrows);
  write_labels(canvas, place_labels(gaps, arrows, 15.0, canvas.width(), view.height()), 15.0,
               [&](std::size_t i) { return colour_of(sheet.close_places[i]); });
  draw_cg(canvas, view.spot(cg_in_frame(sheet.layout, sheet.topped_out)));
  draw_scale_bar(canvas, view, {view.margin, view.height() + 12.0}, 500.0);
  return canvas;
}

Html pose_legend() {
  Html out;
  for (const Look& look : {topped_out_look, sag_look, bottomed_look}) {
    SvgCanvas swatch(34.0, 12.0);
    swatch.line({1.0, 6.0}, {33.0, 6.0}, {look.colour, 1.8, look.dash});
    out += element("span", {{"class", "key"}}, swatch.inside_page("") + text(look.name));
  }
  return element("div", {{"class", "legend"}}, out);
}

constexpr double sheet_width = 780.0;

View whole_view(const search::Sheet& sheet) {
  return fitted(whole_extent(sheet), sheet_width, 12.0);
}

Html captioned(std::string_view title, const SvgCanvas& canvas, const Html& caption) {
  return element("figure", {{"class", "drawing"}},
                 element("h3", title) + canvas.inside_page(title) + element("figcaption", caption));
}

}  // namespace

Html bike_figure(const search::Sheet& sheet, const bike::Gear* gear) {
  std::string note = "In frame axes: the frame stands still, wheels and ground move. ";
  if (gear) note += "Chain drawn at sag in " + gear->name() + ", pitch circles. ";
  note += "Grey: a sketch of tubes and fork, for the eye alone";
  if (!sheet.layout.front.head_tube) note += "; without reach and stack its head tube lies where one would expect it";
  note += ". ";
  note += gaps_in_words(sheet);
  note += "Same scale along both axes.";
  return captioned("Bike", whole_bike(sheet, gear, whole_view(sheet)), pose_legend() + element("p", note));
}

std::string drawing_svg(const search::Sheet& sheet, const bike::Gear* gear) {
  const View view = whole_view(sheet);
  return whole_bike(sheet, gear, view).file(drawing_name(sheet), 1.0 / view.scale);
}

Html linkage_figure(const search::Sheet& sheet, const bike::Gear* gear) {
  Extent extent;
  extent.hold({}, 20.0);
  for (const auto& [pose, _] : layers(sheet)) {
    for (const auto& p : pose->points) extent.hold(p, 12.0);
  }
  for (const auto& disc : make_scene(sheet.layout, sheet.at_sag, gear).discs) {
    if (disc.part == Part::chain) extent.hold(disc.centre, disc.radius);
  }
  // A flat linkage still gets a drawing of a useful height.
  const double lack = 0.5 * (0.55 * extent.x.size() - extent.y.size());
  if (lack > 0.0) extent.y = {extent.y.lo - lack, extent.y.hi + lack};
  const View view = fitted(extent, 560.0, 34.0);
  constexpr double foot = 26.0;
  SvgCanvas canvas(view.width(), view.height() + foot);
  canvas.begin_clip("linkage-area", {0.0, 0.0}, canvas.width(), view.height());

  std::vector<Crossing> lines;
  std::vector<std::pair<std::string, Spot>> names;
  for (const auto& [pose, look] : layers(sheet)) {
    const bool front_most = pose == &sheet.topped_out;
    Scene scene = make_scene(sheet.layout, *pose, pose == &sheet.at_sag ? gear : nullptr);
    if (front_most) sketch_frame(scene, sheet.layout, *pose);
    std::erase_if(scene.discs, [](const Disc& d) { return d.part != Part::chain && d.part != Part::tube; });
    std::erase_if(scene.strokes, far_from_linkage);
    Scene bodies;
    add_bodies(bodies, bodies_in(sheet, pose));
    draw_scene(canvas, view, bodies, *look, front_most ? 1.2 : 0.7, false);
    draw_scene(canvas, view, scene, *look, front_most ? 1.2 : 0.7, front_most);
    if (!front_most) continue;
    for (const auto& joint : scene.joints) names.emplace_back(joint.name, view.spot(joint.at));
    for (const auto& stroke : scene.strokes) {
      const auto path = spots(view, stroke.points);
      if (stroke.part == Part::frame || stroke.part == Part::tube) continue;
      for (std::size_t i = 0; i + 1 < path.size(); ++i) lines.push_back({path[i], path[i + 1]});
      if (stroke.closed) lines.push_back({path.back(), path.front()});
    }
    for (std::size_t p = 0; p < pose->points.size(); ++p) {
      std::vector<Point> trail;
      for (const auto& station : sheet.motion.poses) trail.push_back(station.points[p]);
      const auto path = spots(view, trail);
      canvas.polyline(path, {"#7b8794", 0.9, ""});
      for (std::size_t i = 0; i + 1 < path.size(); ++i) lines.push_back({path[i], path[i + 1]});
    }
    draw_joints(canvas, view, scene, 4.5);
  }
  draw_bottom_bracket(canvas, view.spot({}), 1.2);
  std::vector<search::ClosePlace> places;
  std::copy_if(sheet.close_places.begin(), sheet.close_places.end(), std::back_inserter(places),
               [&](const search::ClosePlace& place) { return extent.holds(place.from) && extent.holds(place.to); });
  const auto gaps = draw_gaps(canvas, view, places, lines);
  canvas.end_clip();
  names.emplace_back("BB", view.spot({}));
  const std::size_t points = names.size();
  names.insert(names.end(), gaps.begin(), gaps.end());
  write_labels(canvas, place_labels(names, lines, 14.0, canvas.width(), view.height()), 14.0,
               [&](std::size_t i) { return i < points ? "#1d2733" : colour_of(places[i - points]); });
  draw_scale_bar(canvas, view, {view.margin, view.height() + 10.0}, 100.0);
  return captioned("Linkage", canvas,
                   pose_legend() + element("p",
                                           "Named as in the pivot table, at their topped-out place. Filled: on "
                                           "the frame; ring: moving pivot; small dot: no pivot. Thin grey lines: "
                                           "the points' paths through the stroke."));
}

Html thumbnail(const search::Sheet& sheet, const std::string& name) {
  Extent extent;
  extent.hold({}, 40.0);
  for (const auto& p : sheet.topped_out.points) extent.hold(p, 40.0);
  const View view = fitted(extent, 150.0, 2.0);
  SvgCanvas canvas(view.width(), view.height());
  Scene scene = make_scene(sheet.layout, sheet.topped_out, nullptr);
  sketch_frame(scene, sheet.layout, sheet.topped_out);
  std::erase_if(scene.strokes, far_from_linkage);
  std::erase_if(scene.discs, [](const Disc& d) { return d.part != Part::tube; });
  canvas.begin_clip("thumbnail-" + name, {0.0, 0.0}, canvas.width(), canvas.height());
  draw_scene(canvas, view, scene, topped_out_look, 0.7, true);
  draw_joints(canvas, view, scene, 1.9);
  draw_bottom_bracket(canvas, view.spot({}), 0.6);
  canvas.end_clip();
  return canvas.inside_page("linkage of layout " + sheet.id + ", topped out");
}

std::vector<Html> figures_at_one_scale(const std::vector<search::Sheet>& sheets) {
  Extent largest;
  double width = 0.0, height = 0.0;
  for (const auto& sheet : sheets) {
    const Extent extent = whole_extent(sheet);
    width = std::max(width, extent.x.size());
    height = std::max(height, extent.y.size());
  }
  std::vector<Html> out;
  for (const auto& sheet : sheets) {
    Extent extent = whole_extent(sheet);
    extent.x.hi = extent.x.lo + width;
    extent.y.hi = extent.y.lo + height;
    const View view = fitted(extent, 560.0, 10.0);
    out.push_back(whole_bike(sheet, drawn_gear(sheet.layout, {}), view).inside_page(sheet.layout.title));
  }
  return out;
}

}  // namespace trammel::report
