// What the program says: results on standard output, what went wrong on standard error.
#pragma once

#include <fmt/format.h>

#include <cstdio>
#include <string_view>
#include <utility>

namespace trammel::app {

/// Writes text in which nothing steers a terminal: names and titles in it may be a stranger's (io/escape.hpp). Line
/// breaks are kept.
void put(std::FILE* stream, std::string_view text);

/// Writes so to standard output. That it cannot be written is told of when the program ends.
void say(std::string_view text);

/// Writes a message so to standard error, with a line end where it has none; when nobody reads there it is lost.
void tell(std::string_view message);

/// `say` with the arguments put into the format.
template <class... Arguments>
void print_out(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
  say(fmt::format(format, std::forward<Arguments>(arguments)...));
}

/// The same on standard error, line ends as they are given: a question on a terminal has none.
template <class... Arguments>
void complain(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
  put(stderr, fmt::format(format, std::forward<Arguments>(arguments)...));
}

}  // namespace trammel::app
