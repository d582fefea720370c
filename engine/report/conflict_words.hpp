// The account of a conflict as sentences: those of the report's page are those of the terminal.
#pragma once

#include <string>
#include <vector>

#include "search/sheet.hpp"

namespace trammel::report {

/// A sentence, and the folder with the brief and the layout that it is about: "conflict/01"; empty for none.
struct Sentence {
  std::string words;
  std::string folder = {};
};

/// "climbing at least 83.9 % instead of 96 % and chain at most 8 mm instead of 6 mm".
std::string gives_words(const search::WayOut& way);

/// Folder of a way out, by its number from 0.
std::string way_folder(std::size_t way);

/// What a closer look found: which demands conflict, and what is enough. The study has a conflict.
std::vector<Sentence> conflict_sentences(const search::StudyReport& study);

/// What a layout misses of what must be.
struct MissWords {
  std::string demand, demanded, achieved, by, where;
  double at_travel = 0.0;  ///< mm
};

/// All musts and rules that a shortlisted layout misses, in the units in which the brief gives their limits.
std::vector<MissWords> missed_in_words(const search::StudyReport& study, const search::Sheet& sheet);

/// "layout 3-0 comes nearest; it misses climbing by 12.2 % and chain by 2.1 mm"; empty when the first of the shortlist
/// misses nothing.
std::string nearest_in_words(const search::StudyReport& study);

}  // namespace trammel::report
