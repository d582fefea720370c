// What a brief says, apart from how it is written: two files that say the same give the same list.
#pragma once

#include <string>
#include <vector>

namespace trammel::brief {

/// What a brief says as one text, a line a key in a fixed order. Comments, notes, layout, the order of a group's keys,
/// the way a number is written and values that are the default anyway leave no trace. The order of points, members and
/// varied points does, because results are numbered by it. Throws std::invalid_argument when `text` is not one that
/// `read_text` accepts.
std::string meaning_text(const std::string& text);

/// A key on which two briefs differ.
struct Difference {
  std::string path;    ///< e.g. "targets[1].band"
  std::string before;  ///< in one form, e.g. "[96, 108]"; empty where the key is left out
  std::string after;
  bool notes = false;  ///< of notes, from which nothing follows
};

/// Keys whose meaning differs between two briefs, sorted by path; empty when they say the same.
std::vector<Difference> differences(const std::string& before, const std::string& after);

}  // namespace trammel::brief
