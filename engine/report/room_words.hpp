// What a study has to say of the room that musts were to keep.
#pragma once

#include <string>

#include "search/sheet.hpp"

namespace trammel::report {

/// "Each shortlisted layout keeps a margin of 0.25 or more in every must." or how much less there is, and in what;
/// empty when no room was asked for or nothing meets every must.
std::string room_words(const search::StudyReport& study);

}  // namespace trammel::report
