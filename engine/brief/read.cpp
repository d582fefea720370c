#include "brief/read.hpp"

#include <fstream>
#include <sstream>

#include "brief/parts.hpp"
#include "brief/read_relative.hpp"
#include "brief/shape_check.hpp"
#include "brief/title.hpp"
#include "brief/yaml_loader.hpp"
#include "linkage/program.hpp"

namespace trammel::brief {

namespace {

/// What only the linkage as a whole can show: its degrees of freedom, members welded together, a drive that moves
/// nothing. Looked at once its parts are right.
void check_mechanism(const Node& root, const bike::Layout& layout, Problems& problems) {
  try {
    linkage::compile(layout.mechanism);
  } catch (const linkage::CompileFailure& failure) {
    for (const std::string& what : failure.problems) problems.add(*root.find("linkage"), what);
  }
}

}  // namespace

void read_parts(const Node& root, Brief& brief, Problems& problems) {
  read_linkage(root, brief.layout, problems);
  read_bike(root, brief.layout, problems);
  read_choose(root, brief, problems);
  read_vary(root, brief, problems);
  read_settings(root, brief, problems);
  read_spring(root, brief, problems);
  read_loads(root, brief.layout, problems);
  read_targets(root, brief, problems);
  add_chain_rules(root, brief, problems);
  read_search(root, brief, problems);
  read_sound(root, brief, problems);
  read_tolerances(root, brief, problems);
  check_settings(root, brief, problems);
  if (problems.empty()) check_mechanism(root, brief.layout, problems);
  look_up_references(root, brief, problems);
  if (brief.layout.title.empty())
    brief.layout.title = made_title(std::filesystem::path(brief.file).stem().string(), "");
}

std::string Reading::message() const {
  std::string text;
  for (const auto& problem : problems) {
    text += (problem.file.empty() ? brief.file : problem.file) + ":" + std::to_string(problem.line) + ":" +
            std::to_string(problem.column) + ": " + problem.where + ": " + problem.what + "\n";
  }
  return text;
}

Reading read_text(const std::string& text, const std::string& file) {
  Reading reading;
  Brief& brief = reading.brief;
  brief.text = text;
  brief.file = file;
  Problems problems;
  if (auto root = load_yaml(text, problems)) {
    check_shape(*root, problems);
    if (root->find("linkages") != nullptr)
      read_linkages(*root, brief, problems);
    else
      read_parts(*root, brief, problems);
    if (problems.empty()) keep_references(*root, brief, problems);
  }
  reading.problems = problems.sorted();
  return reading;
}

Reading read_file(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  std::string text;
  // One byte over the limit is enough for the loader to refuse the file, however large it is.
  if (stream) {
    text.resize(size_limit + 1);
    stream.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(stream.gcount()));
  }
  if (!stream.eof() && text.size() <= size_limit) {
    Reading reading;
    reading.brief.file = path.string();
    reading.problems.push_back({1, 1, "file", "cannot be read; give the path of a brief or layout"});
    return reading;
  }
  return read_text(text, path.string());
}

}  // namespace trammel::brief
