// Reads briefs and layouts: YAML text in, a checked Brief or all its errors out.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace trammel::brief {

/// One thing wrong. Prints as "file:line:column: where in the brief: what is wrong, what was given, what is allowed".
struct Problem {
  int line = 0;       ///< from 1
  int column = 0;     ///< from 1
  std::string where;  ///< path in the brief, e.g. "targets[2].gear"
  std::string what;
  std::string file = {};  ///< another file than the brief, such as a linkage template's; empty for the brief
};

struct Reading {
  Brief brief;                    ///< meaningful only when `problems` is empty
  std::vector<Problem> problems;  ///< sorted by place
  bool ok() const { return problems.empty(); }
  /// All problems, one a line.
  std::string message() const;
};

/// Reads text. `file` stands in messages, and files that the text names lie beside it; of a brief that a study has
/// `kept` none is read. Never throws on bad input.
Reading read_text(const std::string& text, const std::string& file, bool kept = false);
/// Reads a regular file; what is something else, cannot be opened or is over the size limit is a Problem like any
/// other.
Reading read_file(const std::filesystem::path& path);

/// JSON Schema (draft-07) of briefs and layouts, made from the reader's own field table: of those in inches, or of all
/// others.
std::string schema(bool inches = false);

}  // namespace trammel::brief
