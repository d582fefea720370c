// What is usual for the kind of bike, and what it is like outside.
#pragma once

#include "report/html.hpp"
#include "search/sheet.hpp"

namespace trammel::report {

/// One row a remark; empty without any.
Html guidance_table(const search::Sheet& sheet);

}  // namespace trammel::report
