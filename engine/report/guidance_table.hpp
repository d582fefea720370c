// What is usual for the kind of bike, and what it is like outside.
#pragma once

#include <string>
#include <vector>

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// What about it is unusual for the kind of bike, a sentence each.
std::vector<std::string> unusual(const search::Sheet& sheet);
/// One row a remark; empty without any.
Html guidance_table(const search::Sheet& sheet);

}  // namespace trammel::report
