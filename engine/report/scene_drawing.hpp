// A scene on a canvas.
#pragma once

#include "report/scene.hpp"
#include "report/view.hpp"

namespace trammel::report {

/// How one pose is drawn: poses differ by colour and by dash.
struct Look {
  const char* name;
  const char* colour;
  const char* dash;
  double weight;
};

/// Everything of a scene in one look, but its joints. Bands where parts have a width (report/frame_sketch.hpp): tyres
/// behind, then the frame's tubes, then the rest. `fill_members`: members and frame are filled; else lines alone.
void draw_scene(SvgCanvas& canvas, const View& view, const Scene& scene, const Look& look, double weight,
                bool fill_members);

/// Filled: fixed to the frame. Ring: a moving pivot. Small dot: no pivot, such as the axle.
void draw_joints(SvgCanvas& canvas, const View& view, const Scene& scene, double radius);

void draw_bottom_bracket(SvgCanvas& canvas, Spot at, double weight);

}  // namespace trammel::report
