// A layout as its report wants it.
#pragma once

#include "search/sheet.hpp"

namespace trammel::search {

/// A stand-alone layout judged and traced in all its settings and sizes, for reports and comparisons. Throws
/// bike::MotionFailure.
Sheet make_sheet(const bike::Layout& layout, const std::vector<objectives::Target>& targets,
                 const objectives::Packaging& packaging);

}  // namespace trammel::search
