#include "report/dxf_writer.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "report/digits.hpp"

namespace trammel::report {

namespace {

using bike::Point;

/// Letters beyond ASCII that R12 has a code for, or that have a like.
constexpr std::pair<std::string_view, std::string_view> likes[] = {{"±", "%%p"}, {"°", "%%d"}, {"–", "-"},
                                                                   {"−", "-"},   {"×", "x"},   {"·", ","}};

/// R12 knows ASCII only, and takes %% for a code.
std::string ascii(std::string_view words) {
  std::string out;
  while (!words.empty()) {
    const auto* like =
        std::find_if(std::begin(likes), std::end(likes), [&](const auto& l) { return words.starts_with(l.first); });
    if (like != std::end(likes)) {
      out += like->second;
      words.remove_prefix(like->first.size());
      continue;
    }
    const auto code = static_cast<unsigned char>(words.front());
    const bool rest = (code & 0xC0) == 0x80;  // of a letter already shown as ?
    if (!rest) out += code >= 0x20 && code < 0x7f && code != '%' ? words.front() : '?';
    words.remove_prefix(1);
  }
  return out;
}

}  // namespace

void Dxf::line(const std::string& layer, Point a, Point b) {
  begin("LINE", layer);
  place(0, a);
  place(1, b);
}

void Dxf::circle(const std::string& layer, Point centre, double radius) {
  begin("CIRCLE", layer);
  place(0, centre);
  pair(40, exact(radius));
}

void Dxf::point(const std::string& layer, Point at) {
  begin("POINT", layer);
  place(0, at);
}

void Dxf::words(const std::string& layer, Point at, std::string_view text, double height, Anchor anchor, double turn) {
  begin("TEXT", layer);
  place(0, at);
  pair(40, exact(height));
  pair(1, ascii(text));
  if (turn != 0.0) pair(50, exact(turn));
  if (anchor == Anchor::start) return;
  pair(72, anchor == Anchor::middle ? "1" : "2");
  place(1, at);
}

std::string Dxf::whole(const std::function<Look(const std::string& layer)>& look) const {
  Dxf out("");
  out.pair(999, remark_);
  out.section("HEADER");
  out.pair(9, "$ACADVER");
  out.pair(1, "AC1009");
  out.pair(0, "ENDSEC");
  out.section("TABLES");
  out.table("LTYPE", 4);
  out.line_type("CONTINUOUS", "Solid", {});
  out.line_type("DASHED", "Dashed", {12.0, -6.0});
  out.line_type("DOTTED", "Dotted", {3.0, -4.0});
  out.line_type("CENTRE", "Long dash, dot", {12.0, -2.0, 1.0, -2.0});
  out.pair(0, "ENDTAB");
  out.table("LAYER", layers_.size() + 1);
  out.layer("0", {});
  for (const auto& name : layers_) out.layer(name, look(name));
  out.pair(0, "ENDTAB");
  out.pair(0, "ENDSEC");
  out.section("ENTITIES");
  out.text_ += text_;
  out.pair(0, "ENDSEC");
  out.pair(0, "EOF");
  return out.text_;
}

void Dxf::pair(int code, const std::string& value) {
  const std::string digits = std::to_string(code);
  text_ += std::string(digits.size() < 3 ? 3 - digits.size() : 0, ' ') + digits + "\r\n" + value + "\r\n";
}

void Dxf::place(int which, Point p) {
  pair(10 + which, exact(p.x));
  pair(20 + which, exact(p.y));
  pair(30 + which, "0.0");
}

void Dxf::begin(const char* kind, const std::string& layer) {
  layers_.insert(layer);
  pair(0, kind);
  pair(8, layer);
}

void Dxf::section(const char* name) {
  pair(0, "SECTION");
  pair(2, name);
}

void Dxf::table(const char* name, std::size_t entries) {
  pair(0, "TABLE");
  pair(2, name);
  pair(70, std::to_string(entries));
}

void Dxf::line_type(const char* name, const char* meaning, const std::vector<double>& dashes) {
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

void Dxf::layer(const std::string& name, const Look& look) {
  pair(0, "LAYER");
  pair(2, name);
  pair(70, "0");
  pair(62, std::to_string(look.colour));
  pair(6, look.line_type);
}

}  // namespace trammel::report
