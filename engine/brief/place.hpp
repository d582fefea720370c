// Where a value of a brief is written, for messages of those who have only the brief.
#pragma once

#include <string>

#include "brief/brief.hpp"

namespace trammel::brief {

/// "brief.yaml:12:3: linkage" for the value at a path such as "targets[2].band"; of what the brief's text does not
/// have, its beginning.
std::string place_of(const Brief& brief, const std::string& path);

}  // namespace trammel::brief
