// What a shortlisted layout is best at and what it costs, in one sentence.
#pragma once

#include <string>
#include <vector>

#include "search/sheet.hpp"

namespace trammel::report {

/// "The least chain growth 32x24 bottomed (18.2 mm); the narrowest margin, 0.05 on support." Names every layout of the
/// same shortlist by the same rules; `sheet.account` has what is told.
std::string account_sentence(const search::Sheet& sheet, const std::vector<objectives::Target>& targets);

}  // namespace trammel::report
