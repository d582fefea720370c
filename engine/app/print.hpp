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

/// fmt::print on standard output, by `put`.
template <class... Arguments>
void print_out(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
  put(stdout, fmt::format(format, std::forward<Arguments>(arguments)...));
}

/// The same on standard error.
template <class... Arguments>
void complain(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
  put(stderr, fmt::format(format, std::forward<Arguments>(arguments)...));
}

}  // namespace trammel::app
