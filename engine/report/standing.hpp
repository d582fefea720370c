// Where a layout stands in its study: what its pages are called and what they lead to.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

struct Standing {
  std::string title;                                                 ///< "Layout 38-0", "Trade-off 1, point 3"
  const char* counted = "Rank";                                      ///< what `place` counts
  std::string place;                                                 ///< "1 of 8"
  std::string lead;                                                  ///< what sets it apart, in a sentence
  std::string up;                                                    ///< from its folder to the study's
  std::vector<std::pair<std::string, std::string>> neighbours = {};  ///< their folders, seen from its own, and words
  std::vector<std::pair<std::string, std::string>> others = {};      ///< names, and files that show them beside it
};

/// A shortlisted layout, numbered from 0.
Standing shortlisted(const search::StudyReport& study, std::size_t at);

/// A point on a front, both numbered from 0.
Standing on_front(const search::StudyReport& study, std::size_t front, std::size_t point);

/// Links to the study's page and to the neighbours.
Html navigation(const Standing& standing);

}  // namespace trammel::report
