// One call of the program: how it ended, and with --json what it answers to a program.
#pragma once

#include <string>
#include <vector>

#include "brief/read.hpp"
#include "report/json.hpp"

namespace trammel::app {

using report::Json;
using report::json_number;

struct Call {
  bool json = false;  ///< asked for one JSON document on standard output, and for nothing else there
  int exit = 0;
  Json result = {};                           ///< what the verb found; null where it was refused
  std::vector<brief::Problem> problems = {};  ///< why it was refused, or failed
};

/// A tree in one line: numbers with the digits of the CSV files, and everything escaped that is not plain ASCII, so
/// that nothing in it steers a terminal.
std::string json_text(const Json& tree);

/// The document of a call, as docs/output.schema.json describes it, with a line end. `command` is empty where none was
/// named.
std::string document_of(const Call& call, const std::string& command);

/// Text, or null where it is empty.
Json text_or_null(const std::string& text);

}  // namespace trammel::app
