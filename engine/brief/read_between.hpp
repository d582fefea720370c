// Targets that compare settings or sizes: `between`.
#pragma once

#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"
#include "objectives/target.hpp"

namespace trammel::brief {

/// What of settings or sizes is compared, and whether one number is; nothing without the key. After everything else of
/// the target.
void read_between(const Node& node, const bike::Layout& layout, objectives::Target& target, Problems& problems);

}  // namespace trammel::brief
