// Members that keep their shape while the search moves them as one body.
#pragma once

#include "brief/parts.hpp"

namespace trammel::brief {

/// `keep`: adds to `brief.vary` the points that follow. All of `vary` has been read.
void read_keep(const Node& root, Brief& brief, Problems& problems);

}  // namespace trammel::brief
