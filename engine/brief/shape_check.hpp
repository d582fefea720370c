// Holds a tree against the field table: keys, types, ranges and which keys go together.
#pragma once

#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"

namespace trammel::brief {

/// Reports every departure from the field table; this is all that the JSON Schema can say too. Sets `where` of every
/// value, and `flawed` of each that the typed reading must leave alone. A file in inches is checked as it is written;
/// afterwards its sound lengths are in mm, and its units say so.
void check_shape(Node& root, Problems& problems);

/// The same for a linkage template; `where` is its path in messages.
void check_template(Node& root, const std::string& where, Problems& problems);

}  // namespace trammel::brief
