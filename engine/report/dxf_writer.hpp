// A file in DXF R12, ASCII, the oldest form, which every CAD program reads.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "bike/layout.hpp"
#include "report/anchor.hpp"

namespace trammel::report {

/// Entities on layers, in the order in which they come. A layer is made by being used. Lengths in mm; letters that
/// ASCII lacks come out as ?.
class Dxf {
 public:
  /// A layer's line: its type, one of CONTINUOUS, DASHED, DOTTED and CENTRE, and its colour by number (7: black or
  /// white, whichever shows).
  struct Look {
    const char* line_type = "CONTINUOUS";
    int colour = 7;
  };

  /// `remark` stands at the head of the file.
  explicit Dxf(std::string remark) : remark_(std::move(remark)) {}

  void line(const std::string& layer, bike::Point a, bike::Point b);
  void circle(const std::string& layer, bike::Point centre, double radius);
  void point(const std::string& layer, bike::Point at);
  /// `turn` in degrees, counter-clockwise.
  void words(const std::string& layer, bike::Point at, std::string_view text, double height,
             Anchor anchor = Anchor::start, double turn = 0.0);

  /// The file; `look` says how the lines of a layer look.
  std::string whole(const std::function<Look(const std::string& layer)>& look) const;

 private:
  void pair(int code, const std::string& value);
  void place(int which, bike::Point p);
  void begin(const char* kind, const std::string& layer);
  void section(const char* name);
  void table(const char* name, std::size_t entries);
  void line_type(const char* name, const char* meaning, const std::vector<double>& dashes);
  void layer(const std::string& name, const Look& look);

  std::string remark_;
  std::string text_;
  std::set<std::string> layers_;
};

}  // namespace trammel::report
