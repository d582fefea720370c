#include "brief/place.hpp"

#include "brief/edit.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {

std::string place_of(const Brief& brief, const std::string& path) {
  Problems none;
  const auto root = load_yaml(brief.text, none);
  const Node* node = root ? node_at(*root, path) : nullptr;
  const Mark mark = node == nullptr ? Mark{} : node->mark;
  return brief.file + ":" + std::to_string(mark.line) + ":" + std::to_string(mark.column) + ": " + path;
}

}  // namespace trammel::brief
