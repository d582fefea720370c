// The corpus that the reader's tests and the schema's test share: cases.json holds edits of two sound files, and for
// each what must come of it.
#pragma once

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <stdexcept>
#include <string>

#include "tests/support/tree.hpp"

namespace trammel::test {

inline std::string read_whole(const std::string& path) {
  std::ifstream stream(test::in_tree(path), std::ios::binary);
  if (!stream) throw std::runtime_error("cannot open " + path);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

/// The sound files that cases edit.
inline std::string base_text(const std::string& base) {
  if (base == "layout") return read_whole("configs/layouts/single-pivot.yaml");
  return read_whole("tests/brief/corpus/" + base + ".yaml");
}

/// `text` with the first occurrence of `from`, which must be there, replaced.
inline std::string edited(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  if (at == text.npos) throw std::runtime_error("nothing to edit: " + from);
  return text.replace(at, from.size(), to);
}

inline std::string case_text(const nlohmann::json& entry) {
  std::string text = base_text(entry.at("base"));
  for (const auto& edit : entry.at("edits")) text = edited(text, edit.at(0), edit.at(1));
  return text;
}

inline nlohmann::json corpus() {
  return nlohmann::json::parse(read_whole("tests/brief/corpus/cases.json"));
}

}  // namespace trammel::test
