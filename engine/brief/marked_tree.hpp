// The parsed file as our own tree, in which every value knows where it was written.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace trammel::brief {

/// A place in a file, line and column counted from 1.
struct Mark {
  int line = 1;
  int column = 1;
  int file = 0;  ///< 0 = the brief itself; else as numbered by `Problems::add_file`
};

struct Key {
  std::string text;
  Mark mark;
};

/// A value of the file: nothing (an empty value or null), a scalar, a list or a map.
struct Node {
  enum class Kind { nothing, scalar, list, map };

  Kind kind = Kind::nothing;
  Mark mark;
  std::string text;         ///< scalar: its text, without quotes
  bool plain = true;        ///< scalar: written without quotes
  std::string written;      ///< scalar: as the file has it in inches, where `text` is that in mm; else empty
  std::vector<Key> keys;    ///< map: one key for each of `items`; no key occurs twice
  std::vector<Node> items;  ///< list or map
  std::string where;        ///< path in the brief, set by the shape check
  bool flawed = false;      ///< a problem with this very value (not with one inside it) has been reported

  /// The value of a map's key; null when there is none or this is no map.
  const Node* find(std::string_view key) const;
  Node* find(std::string_view key);
};

/// Whether two trees say the same, wherever it was written.
bool same_tree(const Node& a, const Node& b);

/// Nodes of a tree, itself included.
std::size_t count_nodes(const Node& node);

/// Text from a file, made fit for a message: escaped (io/escape.hpp) and cut to a readable length.
std::string printable(std::string_view text);

/// What a value is, for "… was given": its text, or "a list of 3 values".
std::string describe(const Node& node);

}  // namespace trammel::brief
