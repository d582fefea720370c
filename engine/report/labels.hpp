// Where to put names on a crowded drawing.
#pragma once

#include <string>
#include <vector>

#include "report/svg_canvas.hpp"

namespace trammel::report {

struct Label {
  std::string words;
  Spot anchor;  ///< what it names
  Spot corner;  ///< upper left corner of the words' box
  double width = 0.0;
  double height = 0.0;
};

struct Crossing {  ///< a line that words should not lie on
  Spot a, b;
};

/// Finds a place for each name near its anchor: the candidate that overlaps least with the names placed before, the
/// anchors and the lines, nearer ones first; none leaves the canvas. Words are reckoned 0.6 of their size wide a
/// letter.
std::vector<Label> place_labels(const std::vector<std::pair<std::string, Spot>>& names,
                                const std::vector<Crossing>& lines, double letter_size, double canvas_width,
                                double canvas_height);

}  // namespace trammel::report
