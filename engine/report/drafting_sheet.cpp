#include "report/drafting_sheet.hpp"
#include "report/digits.hpp"

#include "report/svg_canvas.hpp"

namespace trammel::report {

namespace {

using bike::Point;

constexpr double wide = 0.5, narrow = 0.25;  // mm

struct KindLook {
  const char* layer;
  double width;
  const char* dash;  ///< SVG's, mm
  const char* line_type;
};

const KindLook& look_of(LineKind kind) {
  static constexpr KindLook looks[] = {{"OUTLINE", wide, "", "CONTINUOUS"},
                                       {"THIN", narrow, "", "CONTINUOUS"},
                                       {"CENTRES", narrow, "6 1 0.6 1", "CENTRE"},
                                       {"ADJACENT", narrow, "3 1.5", "DASHED"},
                                       {"BORDER", wide, "", "CONTINUOUS"}};
  return looks[static_cast<std::size_t>(kind)];
}

constexpr const char* words_layer = "TEXT";
/// Of the height of a capital, which is what drawings give, to that of the type.
constexpr double type_size = 1.4;

}  // namespace

void DraftingSheet::box(LineKind kind, Point corner, double width, double height) {
  const Point across{width, 0.0}, up{0.0, height};
  line(kind, corner, corner + across);
  line(kind, corner + across, corner + across + up);
  line(kind, corner + across + up, corner + up);
  line(kind, corner + up, corner);
}

void DraftingSheet::words(Point at, std::string_view text, double height, Anchor anchor, double turn) {
  if (!text.empty()) words_.push_back({at, std::string(text), height, anchor, turn});
}

std::string DraftingSheet::svg(std::string_view title) const {
  SvgCanvas canvas(paper_.width, paper_.height);
  const auto spot = [&](Point p) { return Spot{p.x, paper_.height - p.y}; };
  const auto pen = [](LineKind kind) { return Pen{"#000000", look_of(kind).width, look_of(kind).dash}; };
  canvas.rect({0.0, 0.0}, paper_.width, paper_.height, {"none", 0.0, ""}, "#ffffff");
  for (const Line& line : lines_) canvas.line(spot(line.a), spot(line.b), pen(line.kind));
  for (const Circle& circle : circles_) canvas.circle(spot(circle.centre), circle.radius, pen(circle.kind));
  for (const Words& words : words_) {
    Lettering lettering{type_size * words.height};
    lettering.anchor = words.anchor;
    lettering.colour = "#000000";
    lettering.turn = -words.turn;
    canvas.write(spot(words.at), words.text, lettering);
  }
  // So that a browser prints it true to size, on paper of this size or to a file.
  const std::string page = "@page{size:" + shown(paper_.width, 0) + "mm " + shown(paper_.height, 0) + "mm;margin:0}";
  return canvas.file(title, 1.0, element("style", page));
}

std::string DraftingSheet::dxf() const {
  Dxf dxf("lengths in mm; the part at its true size, origin at the bottom bracket, x forward, y up");
  const auto place = [&](Point p) { return (p - origin_) * reduction_; };
  for (const Line& line : lines_) dxf.line(look_of(line.kind).layer, place(line.a), place(line.b));
  for (const Circle& circle : circles_)
    dxf.circle(look_of(circle.kind).layer, place(circle.centre), circle.radius * reduction_);
  for (const Words& words : words_)
    dxf.words(words_layer, place(words.at), words.text, words.height * reduction_, words.anchor, words.turn);
  return dxf.whole([](const std::string& layer) {
    Dxf::Look look;
    for (const auto kind : {LineKind::centre, LineKind::adjacent})
      if (layer == look_of(kind).layer) look.line_type = look_of(kind).line_type;
    return look;
  });
}

}  // namespace trammel::report
