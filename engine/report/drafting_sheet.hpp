// A sheet of a technical drawing: lines and letters in millimetres on paper, as an SVG that prints true to size, and as
// a DXF in which the part has its true size and the sheet around it is enlarged by the scale.
//
// Widths and kinds of lines after ISO 128-2, heights of letters after ISO 3098-1, sizes of sheets after ISO 5457,
// scales after ISO 5455; all from memory.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "bike/layout.hpp"
#include "report/dxf_writer.hpp"

namespace trammel::report {

/// What a line stands for.
enum class LineKind {
  outline,   ///< a part: wide
  thin,      ///< dimensions, leaders, tables
  centre,    ///< centres: thin, long dash and dot
  adjacent,  ///< what belongs to no part drawn: thin, dashed
  border,    ///< the sheet's frame: wide
};

/// Paper of a named size, mm, lying.
struct Paper {
  const char* name = "A3";
  double width = 420.0, height = 297.0;
  static constexpr double left = 20.0,
                          edge = 10.0;  ///< from the edge of the paper to the frame: at the left, elsewhere
};

class DraftingSheet {
 public:
  /// `reduction` 2 is a scale of 1 : 2; `origin` is where the part's origin lies on the paper.
  DraftingSheet(const Paper& paper, double reduction, bike::Point origin)
      : paper_(paper), reduction_(reduction), origin_(origin) {}

  const Paper& paper() const { return paper_; }
  /// Where a point of the part, mm, lies on the paper; y up from its lower edge.
  bike::Point on_paper(bike::Point p) const { return origin_ + p * (1.0 / reduction_); }

  void line(LineKind kind, bike::Point a, bike::Point b) { lines_.push_back({kind, a, b}); }
  void circle(LineKind kind, bike::Point centre, double radius) { circles_.push_back({kind, centre, radius}); }
  void box(LineKind kind, bike::Point corner, double width, double height);
  /// `at`: on the base line; `turn` in degrees, counter-clockwise.
  void words(bike::Point at, std::string_view text, double height, Anchor anchor = Anchor::start, double turn = 0.0);

  std::string svg(std::string_view title) const;
  /// R12; the part at its true size in frame axes.
  std::string dxf() const;

 private:
  struct Line {
    LineKind kind;
    bike::Point a, b;
  };
  struct Circle {
    LineKind kind;
    bike::Point centre;
    double radius;
  };
  struct Words {
    bike::Point at;
    std::string text;
    double height;
    Anchor anchor;
    double turn;
  };

  Paper paper_;
  double reduction_;
  bike::Point origin_;
  std::vector<Line> lines_;
  std::vector<Circle> circles_;
  std::vector<Words> words_;
};

}  // namespace trammel::report
