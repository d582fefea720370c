// Numbers that a brief takes from a CSV file beside it. They are written into the brief's text, so that a study does
// not depend on the file.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "brief/brief.hpp"
#include "brief/marked_tree.hpp"
#include "brief/problems.hpp"

namespace trammel::brief {

using Readings = std::vector<std::pair<double, double>>;

/// "[[x, y], …]".
std::string list_text(const Readings& readings);

/// What a file of two numbers a line holds.
struct ReadingsAsked {
  std::string what;                        ///< "compression in mm and force in N", for messages
  std::vector<std::string> first, second;  ///< names of columns, for files with more of them; none = two columns only
};

/// The readings of a CSV file after RFC 4180 beside the brief, its first line a header or not. With a header that names
/// a column of each kind those two are taken; else it has two columns. Reports what is wrong at `file`; nothing then.
std::optional<Readings> read_csv(const Node& file, const Brief& brief, const ReadingsAsked& asked, Problems& problems);

/// Puts readings into the brief's text where `key: file` names theirs, as `list: [[…], …]`; `find` gives that list in
/// the text read again. Reports where the text is written in a way that this does not find, an alias for one.
void put_into_text(const Node& file, const std::string& key, const std::string& list, const Readings& readings,
                   const std::function<const Node*(const Node& root)>& find, std::string& text, Problems& problems);

/// Adds `key: value` to a group in the brief's text, behind the value of its key `beside`; `find` gives that group in
/// the text read again. Reports where the text is written in a way that this does not find.
void add_to_text(const Node& map, const std::string& beside, const std::string& key, const std::string& value,
                 const std::function<const Node*(const Node& root)>& find, std::string& text, Problems& problems);

}  // namespace trammel::brief
