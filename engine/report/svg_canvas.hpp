// A drawing surface that collects SVG elements. Everything is given by attributes, so that a drawing looks the same
// inside a page and as a file of its own.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "math/vec2.hpp"
#include "report/anchor.hpp"
#include "report/html.hpp"

namespace trammel::report {

using Spot = math::Vec2<double>;  ///< on the canvas, px, y down

/// How a line is drawn. `dash` is SVG's stroke-dasharray, empty for a solid line.
struct Pen {
  std::string colour = "#1d2733";
  double width = 1.0;
  std::string dash = {};
  bool round = false;  ///< ends and corners
};

struct Lettering {
  double size = 12.0;
  Anchor anchor = Anchor::start;
  std::string colour = "#1d2733";
  bool bold = false;
  bool halo = false;  ///< a background-coloured rim, for letters over lines
  double turn = 0.0;  ///< degrees, clockwise on the page
};

/// Colours of a series: the colour-blind-safe set of Okabe & Ito, Color Universal Design (2008), from memory; the
/// yellow is left out for its poor contrast on white. `n` counts up; colours repeat, with other dashes, after seven.
Pen series_pen(int n, double width = 1.8);

class SvgCanvas {
 public:
  SvgCanvas(double width, double height) : width_(width), height_(height) {}
  double width() const { return width_; }
  double height() const { return height_; }

  void line(Spot a, Spot b, const Pen& pen);
  void polyline(const std::vector<Spot>& spots, const Pen& pen);
  void polygon(const std::vector<Spot>& spots, const Pen& pen, std::string_view fill, double opacity = 1.0);
  void circle(Spot centre, double radius, const Pen& pen, std::string_view fill = "none");
  void rect(Spot corner, double width, double height, const Pen& pen, std::string_view fill, double opacity = 1.0);
  /// Filled discs so many px wide, and crosses that reach so many px from their middles, as one element each.
  void dots(const std::vector<Spot>& spots, double width, const std::string& colour);
  void crosses(const std::vector<Spot>& spots, double reach, const Pen& pen);
  void write(Spot at, std::string_view words, const Lettering& lettering);
  /// What is drawn between the two calls is cut off at the rectangle. `name` must be unique within a page.
  void begin_clip(std::string_view name, Spot corner, double width, double height);
  void end_clip();
  /// What is drawn between the two calls leads to an address and is read out as `words`; so do 11 px about a spot.
  void begin_link(Spot about, const std::string& address, const std::string& words);
  void end_link();
  /// What is drawn between the two calls is of a class, for a page's style.
  void begin_class(std::string_view name);
  void end_class();

  /// For use inside a page; `label` is read out by screen readers; without one they pass it over.
  Html inside_page(std::string_view label) const;
  /// A file of its own whose lengths in mm are true when `mm_per_px` is the drawing's scale.
  /// `style`: an element for its head.
  std::string file(std::string_view label, double mm_per_px, const Html& style = {}) const;

 private:
  double width_;
  double height_;
  Html content_;
  bool links_ = false;
};

}  // namespace trammel::report
