// What a study has to say of the room that musts were to keep.
#pragma once

#include <string>

#include "search/sheet.hpp"

namespace trammel::report {

/// The required target or rule in which an assessment has the least margin; empty without any.
std::string narrowest(const std::vector<objectives::Target>& targets, const objectives::Assessment& assessment);

/// "Each shortlisted layout keeps a margin of 0.25 or more in every must." or how much less there is, and in what;
/// empty when no room was asked for or nothing meets every must.
std::string room_words(const search::StudyReport& study);

}  // namespace trammel::report
