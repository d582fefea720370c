#include "report/dxf.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "report/digits.hpp"
#include "report/scene.hpp"
#include "report/wording.hpp"

namespace trammel::report {

namespace {

using bike::Point;

constexpr double pivot_mark = 6.0;  // radius of a pivot's circle, mm; it is a mark, not a bearing
constexpr double letter_height = 10.0;

/// R12 knows ASCII only, and takes %% for a code.
std::string ascii(std::string_view words) {
  std::string out;
  for (const char c : words) {
    const auto code = static_cast<unsigned char>(c);
    if ((code & 0xC0) == 0x80) continue;  // the rest of a letter already shown as ?
    out += code >= 0x20 && code < 0x7f && c != '%' ? c : '?';
  }
  return out;
}

class Dxf {
 public:
  void line(const std::string& layer, Point a, Point b) {
    begin("LINE", layer);
    place(0, a);
    place(1, b);
  }
  void circle(const std::string& layer, Point centre, double radius) {
    begin("CIRCLE", layer);
    place(0, centre);
    pair(40, exact(radius));
  }
  void point(const std::string& layer, Point at) {
    begin("POINT", layer);
    place(0, at);
  }
  void words(const std::string& layer, Point at, std::string_view text) {
    begin("TEXT", layer);
    place(0, at);
    pair(40, exact(letter_height));
    pair(1, ascii(text));
  }

  std::string whole() const {
    Dxf out;
    out.pair(999, "lengths in mm, frame axes: origin at the bottom bracket, x forward, y up");
    out.section("HEADER");
    out.pair(9, "$ACADVER");
    out.pair(1, "AC1009");
    out.pair(0, "ENDSEC");
    out.section("TABLES");
    out.table("LTYPE", 3);
    out.line_type("CONTINUOUS", "Solid", {});
    out.line_type("DASHED", "Dashed", {12.0, -6.0});
    out.line_type("DOTTED", "Dotted", {3.0, -4.0});
    out.pair(0, "ENDTAB");
    out.table("LAYER", layers_.size() + 1);
    out.layer("0");
    for (const auto& name : layers_) out.layer(name);
    out.pair(0, "ENDTAB");
    out.pair(0, "ENDSEC");
    out.section("ENTITIES");
    out.text_ += text_;
    out.pair(0, "ENDSEC");
    out.pair(0, "EOF");
    return out.text_;
  }

 private:
  void pair(int code, const std::string& value) {
    const std::string digits = std::to_string(code);
    text_ += std::string(digits.size() < 3 ? 3 - digits.size() : 0, ' ') + digits + "\r\n" + value + "\r\n";
  }
  void place(int which, Point p) {
    pair(10 + which, exact(p.x));
    pair(20 + which, exact(p.y));
    pair(30 + which, "0.0");
  }
  void begin(const char* kind, const std::string& layer) {
    layers_.insert(layer);
    pair(0, kind);
    pair(8, layer);
  }
  void section(const char* name) {
    pair(0, "SECTION");
    pair(2, name);
  }
  void table(const char* name, std::size_t entries) {
    pair(0, "TABLE");
    pair(2, name);
    pair(70, std::to_string(entries));
  }
  void line_type(const char* name, const char* meaning, const std::vector<double>& dashes) {
    double length = 0.0;
    for (const double d : dashes) length += d < 0.0 ? -d : d;
    pair(0, "LTYPE");
    pair(2, name);
    pair(70, "0");
    pair(3, meaning);
    pair(72, "65");
    pair(73, std::to_string(dashes.size()));
    pair(40, exact(length));
    for (const double d : dashes) pair(49, exact(d));
  }
  void layer(const std::string& name) {
    const bool sag = name.ends_with("_SAG"), bottomed = name.ends_with("_BOTTOMED");
    pair(0, "LAYER");
    pair(2, name);
    pair(70, "0");
    pair(62, sag ? "5" : bottomed ? "30" : "7");
    pair(6, sag ? "DASHED" : bottomed ? "DOTTED" : "CONTINUOUS");
  }

  std::string text_;
  std::set<std::string> layers_;
};

const char* layer_of(Part part) {
  switch (part) {
    case Part::frame:
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
  }
  return "0";
}

void add_scene(Dxf& dxf, const Scene& scene, const std::string& suffix) {
  for (const auto& stroke : scene.strokes) {
    if (stroke.part == Part::frame && !suffix.empty()) continue;  // it stands still
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
    if (suffix.empty()) dxf.words(name_layer, joint.at + name_offset(), joint.name);
  }
}

}  // namespace

bike::Point name_offset() {
  return {pivot_mark + 2.0, pivot_mark};
}

std::string drawing_dxf(const search::Sheet& sheet, const bike::Gear* gear) {
  Dxf dxf;
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
  dxf.words(name_layer, {8.0, -16.0}, "BB");
  const Point corner = sheet.topped_out.rear_contact + Point{0.0, -60.0};
  dxf.words(name_layer, corner, "UNITS MM");
  dxf.words(name_layer, corner + Point{0.0, -20.0}, drawing_name(sheet));
  return dxf.whole();
}

}  // namespace trammel::report
