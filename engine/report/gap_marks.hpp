// Dimensions of the closest places between bodies, in a drawing.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/labels.hpp"
#include "report/view.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// Colour of a place's mark and words: whether the gap is large enough shows.
const char* colour_of(const search::ClosePlace& place);

/// The closest places with their bodies. Gives the words that are to stand beside them, and adds the lines of the
/// arrows, which words keep clear of.
std::vector<std::pair<std::string, Spot>> draw_gaps(SvgCanvas& canvas, const View& view,
                                                    const std::vector<search::ClosePlace>& places,
                                                    std::vector<Crossing>& lines);

/// What the dimensions of gaps are of, as a sentence; empty when there are none.
std::string gaps_in_words(const search::Sheet& sheet);

}  // namespace trammel::report
