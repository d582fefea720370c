// The way from a bike, in mm with y up, to a canvas, in px with y down.
#pragma once

#include <vector>

#include "bike/layout.hpp"
#include "report/plot.hpp"
#include "report/svg_canvas.hpp"

namespace trammel::report {

/// What a drawing must hold, frame axes, mm.
struct Extent {
  Span x = Span::empty(), y = Span::empty();
  void hold(bike::Point p, double around = 0.0) {
    x.hold(p.x - around);
    x.hold(p.x + around);
    y.hold(p.y - around);
    y.hold(p.y + around);
  }
  bool holds(bike::Point p) const { return x.lo <= p.x && p.x <= x.hi && y.lo <= p.y && p.y <= y.hi; }
};

/// From frame axes in mm, y up, to the canvas, y down.
struct View {
  Extent extent;
  double scale = 1.0;   ///< px a mm
  double margin = 0.0;  ///< px on every side
  Spot spot(bike::Point p) const {
    return {margin + (p.x - extent.x.lo) * scale, margin + (extent.y.hi - p.y) * scale};
  }
  double width() const { return extent.x.size() * scale + 2.0 * margin; }
  double height() const { return extent.y.size() * scale + 2.0 * margin; }
};

/// A view as wide as `width`, px, with so much margin on every side.
inline View fitted(const Extent& extent, double width, double margin) {
  return {extent, (width - 2.0 * margin) / extent.x.size(), margin};
}

inline std::vector<Spot> spots(const View& view, const std::vector<bike::Point>& points) {
  std::vector<Spot> out;
  out.reserve(points.size());
  for (const auto& p : points) out.push_back(view.spot(p));
  return out;
}

}  // namespace trammel::report
