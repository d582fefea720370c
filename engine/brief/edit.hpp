// Changes of single values in a brief's text: all else, comments and layout of the text included, stays as written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "brief/marked_tree.hpp"

namespace trammel::brief {

/// A value to be put into a brief's text. `path` is where it stands, such as "targets[2].band[0]" or
/// "packaging.boxes.mount.x[1]"; `value` is a number, a name or a text in quotes, as it is to be written.
struct Change {
  std::string path;
  std::string value;
};

/// The value at a path of a tree; null when there is none.
const Node* node_at(const Node& root, const std::string& path);

/// A whole brief as text, a line for each entry of its groups and lists, without comments.
std::string text_of(const Node& root);

/// The text with each value that was `written` in inches as the tree, which was read from it, has it: in mm. Where a
/// value cannot be changed by itself, the file is written out anew, without comments.
std::string as_in_tree(const std::string& text, const Node& root);

/// The text with these values in place of those that it has. A key that is left out is put in, with the groups that it
/// stands in. Where a value cannot be changed by itself, because an alias repeats it elsewhere, the brief is written
/// out anew, without comments. Throws std::invalid_argument when the text is no brief, or has a list that is too short.
std::string with_changes(const std::string& text, const std::vector<Change>& changes);

}  // namespace trammel::brief
