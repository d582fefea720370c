#include "report/svg_canvas.hpp"

#include <array>

#include "report/digits.hpp"

namespace trammel::report {

namespace {

std::string px(double x) {
  return shown(x, 2);
}

std::string path_of(const std::vector<Spot>& spots) {
  std::string out;
  for (const auto& s : spots) out += (out.empty() ? "" : " ") + px(s.x) + "," + px(s.y);
  return out;
}

void add_pen(Attributes& attributes, const Pen& pen) {
  attributes.emplace_back("stroke", pen.colour);
  attributes.emplace_back("stroke-width", px(pen.width));
  if (!pen.dash.empty()) attributes.emplace_back("stroke-dasharray", pen.dash);
  if (pen.round) attributes.emplace_back("stroke-linecap", "round");
}

/// An opacity is written where there is one to see only: some programs fill what has one, fill or not.
void add_fill(Attributes& attributes, std::string_view fill, double opacity) {
  attributes.emplace_back("fill", std::string(fill));
  if (fill != "none" && opacity < 1.0) attributes.emplace_back("fill-opacity", px(opacity));
}

}  // namespace

Pen series_pen(int n, double width) {
  static constexpr std::array colours{"#0072b2", "#d55e00", "#009e73", "#1d2733", "#b0578d", "#56b4e9", "#b87d00"};
  static constexpr std::array dashes{"", "9 4", "2 3", "9 3 2 3", "14 4", "5 2", "9 3 2 3 2 3", "4 5"};
  const auto i = static_cast<std::size_t>(n);
  return {colours[i % colours.size()], width, dashes[i % dashes.size()]};
}

void SvgCanvas::line(Spot a, Spot b, const Pen& pen) {
  Attributes attributes{{"x1", px(a.x)}, {"y1", px(a.y)}, {"x2", px(b.x)}, {"y2", px(b.y)}};
  add_pen(attributes, pen);
  content_ += closed("line", attributes);
}

void SvgCanvas::polyline(const std::vector<Spot>& spots, const Pen& pen) {
  if (spots.size() < 2) return;
  Attributes attributes{{"points", path_of(spots)}, {"fill", "none"}, {"stroke-linejoin", "round"}};
  add_pen(attributes, pen);
  content_ += closed("polyline", attributes);
}

void SvgCanvas::polygon(const std::vector<Spot>& spots, const Pen& pen, std::string_view fill, double opacity) {
  Attributes attributes{{"points", path_of(spots)}};
  add_fill(attributes, fill, opacity);
  attributes.emplace_back("stroke-linejoin", "round");
  add_pen(attributes, pen);
  content_ += closed("polygon", attributes);
}

void SvgCanvas::circle(Spot centre, double radius, const Pen& pen, std::string_view fill) {
  Attributes attributes{{"cx", px(centre.x)}, {"cy", px(centre.y)}, {"r", px(radius)}, {"fill", std::string(fill)}};
  add_pen(attributes, pen);
  content_ += closed("circle", attributes);
}

void SvgCanvas::rect(Spot corner, double width, double height, const Pen& pen, std::string_view fill, double opacity) {
  Attributes attributes{{"x", px(corner.x)}, {"y", px(corner.y)}, {"width", px(width)}, {"height", px(height)}};
  add_fill(attributes, fill, opacity);
  add_pen(attributes, pen);
  content_ += closed("rect", attributes);
}

void SvgCanvas::dots(const std::vector<Spot>& spots, double width, const std::string& colour) {
  if (spots.empty()) return;
  std::string path;
  for (const Spot& s : spots) path += "M" + px(s.x) + " " + px(s.y) + "h0";  // a line without length, with round ends
  Attributes attributes{{"d", path}};
  add_pen(attributes, {.colour = colour, .width = width, .dash = "", .round = true});
  content_ += closed("path", attributes);
}

void SvgCanvas::crosses(const std::vector<Spot>& spots, double reach, const Pen& pen) {
  if (spots.empty()) return;
  std::string path;
  const std::string d = px(2.0 * reach);
  std::string cross = "l";
  cross.append(d).append(" ").append(d).append("m0 -").append(d).append("l-").append(d).append(" ").append(d);
  for (const Spot& s : spots)
    path.append("M").append(px(s.x - reach)).append(" ").append(px(s.y - reach)).append(cross);
  Attributes attributes{{"d", path}, {"fill", "none"}};
  add_pen(attributes, pen);
  content_ += closed("path", attributes);
}

void SvgCanvas::write(Spot at, std::string_view words, const Lettering& lettering) {
  static constexpr std::array anchors{"start", "middle", "end"};
  Attributes attributes{{"x", px(at.x)},
                        {"y", px(at.y)},
                        {"font-family", "system-ui, sans-serif"},
                        {"font-size", px(lettering.size)},
                        {"text-anchor", anchors[static_cast<std::size_t>(lettering.anchor)]},
                        {"fill", lettering.colour}};
  if (lettering.bold) attributes.emplace_back("font-weight", "600");
  if (lettering.halo) {
    attributes.emplace_back("stroke", "#ffffff");
    attributes.emplace_back("stroke-width", "3");
    attributes.emplace_back("stroke-linejoin", "round");
    attributes.emplace_back("paint-order", "stroke");
  }
  if (lettering.turn != 0.0) {
    attributes.emplace_back("transform", "rotate(" + px(lettering.turn) + " " + px(at.x) + " " + px(at.y) + ")");
  }
  content_ += element("text", attributes, text(words));
}

void SvgCanvas::begin_clip(std::string_view name, Spot corner, double width, double height) {
  const std::string id(name);
  content_ +=
      element(
          "clipPath", {{"id", id}},
          closed("rect", {{"x", px(corner.x)}, {"y", px(corner.y)}, {"width", px(width)}, {"height", px(height)}})) +
      Html("<g clip-path=\"url(#" + escape(id) + ")\">");
}

void SvgCanvas::end_clip() {
  content_ += Html("</g>");
}

void SvgCanvas::begin_link(Spot about, const std::string& address, const std::string& words) {
  content_ += Html("<a href=\"" + escape(address) + "\" aria-label=\"" + escape(words) + "\">");
  content_ += closed(
      "circle", {{"cx", px(about.x)}, {"cy", px(about.y)}, {"r", "11"}, {"fill", "#ffffff"}, {"fill-opacity", "0"}});
  links_ = true;
}

void SvgCanvas::end_link() {
  content_ += Html("</a>");
}

void SvgCanvas::begin_class(std::string_view name) {
  content_ += Html("<g class=\"" + escape(name) + "\">");
}

void SvgCanvas::end_class() {
  content_ += Html("</g>");
}

Html SvgCanvas::inside_page(std::string_view label) const {
  Attributes attributes{{"viewBox", "0 0 " + px(width_) + " " + px(height_)}};
  if (label.empty()) {
    attributes.emplace_back("aria-hidden", "true");
    attributes.emplace_back("width", px(width_));
    attributes.emplace_back("height", px(height_));
  } else {
    attributes.emplace_back("role", links_ ? "group" : "img");
    attributes.emplace_back("aria-label", std::string(label));
  }
  return element("svg", attributes, content_);
}

std::string SvgCanvas::file(std::string_view label, double mm_per_px, const Html& style) const {
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" +
         element("svg",
                 {{"xmlns", "http://www.w3.org/2000/svg"},
                  {"width", px(width_ * mm_per_px) + "mm"},
                  {"height", px(height_ * mm_per_px) + "mm"},
                  {"viewBox", "0 0 " + px(width_) + " " + px(height_)}},
                 element("title", label) + style + content_)
             .str() +
         "\n";
}

}  // namespace trammel::report
