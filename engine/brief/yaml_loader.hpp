// The only door to the YAML library: text in, our own marked tree out.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"

namespace trammel::brief {

/// Limits that keep a hostile or mistaken file from taking the machine.
inline constexpr std::size_t size_limit = 256 * 1024;  ///< bytes of text
inline constexpr std::size_t node_limit = 20000;       ///< values, after aliases are written out
inline constexpr int depth_limit = 16;                 ///< lists and groups inside each other

/// Reads one YAML document. Aliases are written out in full. Reports syntax errors, duplicate keys (naming both lines),
/// merge keys, tags, aliases inside their own anchor, further documents, and files over a limit. Returns nothing when
/// what remains cannot be read on. All marks are in file number `file`.
std::optional<Node> load_yaml(const std::string& text, Problems& problems, int file = 0);

}  // namespace trammel::brief
