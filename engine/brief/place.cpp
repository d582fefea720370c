#include "brief/place.hpp"

#include "brief/edit.hpp"
#include "brief/yaml_loader.hpp"
#include "io/escape.hpp"

namespace trammel::brief {

Problem problem_at(const Brief& brief, const std::string& path, std::string what) {
  Problems none;
  const auto root = load_yaml(brief.text, none);
  const Node* node = root ? node_at(*root, path) : nullptr;
  const Mark mark = node == nullptr ? Mark{} : node->mark;
  return {mark.line, mark.column, path, std::move(what), brief.file};
}

std::vector<Problem> with_files(const Reading& reading) {
  std::vector<Problem> out = reading.problems;
  for (Problem& problem : out)
    if (problem.file.empty()) problem.file = reading.brief.file;
  return out;
}

std::string text_of(const Problem& problem) {
  std::string place;
  if (problem.line > 0)
    place =
        io::escaped(problem.file) + ":" + std::to_string(problem.line) + ":" + std::to_string(problem.column) + ": ";
  return place + (problem.where.empty() ? "" : problem.where + ": ") + problem.what;
}

}  // namespace trammel::brief
