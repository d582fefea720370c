// Files that a brief names, which lie beside it.
#pragma once

#include <optional>
#include <string>

#include "brief/brief.hpp"
#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"

namespace trammel::brief {

/// All bytes of the file that the brief names at `named`, by a path from its own folder. Nothing, and a problem at
/// `named`, when it is no regular file, holds more than a brief may, cannot be read, or when the brief is one that a
/// study keeps. `wanted` says what to give instead: "a CSV file".
std::optional<std::string> side_file(const Node& named, const Brief& brief, const std::string& wanted,
                                     Problems& problems);

}  // namespace trammel::brief
