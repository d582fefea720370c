// Numbers and intervals as sentences say them.
#pragma once

#include <string>
#include <string_view>

#include "objectives/packaging.hpp"

namespace trammel::objectives {

/// Six digits at most.
std::string number_text(double x);
std::string with_unit(double x, std::string_view unit);
/// "96 to 108 %", "at most 24 mm"; an end that is infinite is none.
std::string in_words(const Interval& i, std::string_view unit);

}  // namespace trammel::objectives
