// A whole brief from a few answers.
#pragma once

#include <string>

#include "draft/answers.hpp"

namespace trammel::draft {

/// The text of a brief with comments: the bike around the linkage, the template's ranges in millimetres, wishes and
/// packaging as is usual for the kind of bike. The brief's reader takes it. Throws std::runtime_error, with the
/// reader's words, for answers on which no linkage can be put, such as a chainstay shorter than the axle is high.
std::string first_brief(const Answers& answers);

}  // namespace trammel::draft
