// Problems with their places, for messages and for programs.
#pragma once

#include <string>
#include <vector>

#include "brief/read.hpp"

namespace trammel::brief {

/// What is wrong with the value at a path such as "targets[2].band"; of what the brief's text does not have, at its
/// beginning.
Problem problem_at(const Brief& brief, const std::string& path, std::string what);

/// All problems of a reading, those of the brief with its file's name.
std::vector<Problem> with_files(const Reading& reading);

/// A problem in one line without its end: file, line and column in front, unless its line is 0, as of an option.
std::string text_of(const Problem& problem);

}  // namespace trammel::brief
