// Takes out of a brief what it says of points that a linkage does not have.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "brief/marked_tree.hpp"

namespace trammel::brief {

/// Takes a key and its value out of a map, where it has it.
void drop(Node& map, std::string_view key);

/// Called with the name of a point, where it stands and its path; false to leave out what is said of it.
using Keep = std::function<bool(const std::string&, Mark, const std::string&)>;

/// Goes through all places in a brief that speak of a linkage's points by name. Bodies on points that are left out go
/// with them, and what is said of those bodies.
void sift(Node& root, const Keep& keep);

}  // namespace trammel::brief
