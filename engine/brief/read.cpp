#include "brief/read.hpp"

#include <algorithm>

#include "brief/edit.hpp"
#include "brief/parts.hpp"
#include "brief/place.hpp"
#include "brief/read_relative.hpp"
#include "brief/shape_check.hpp"
#include "brief/title.hpp"
#include "brief/units.hpp"
#include "brief/values.hpp"
#include "brief/yaml_loader.hpp"
#include "io/files.hpp"
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

/// Each shock with each idler and chainring, in each setting and size of each linkage, is compiled by itself, and takes
/// half a megabyte.
constexpr std::size_t most_models = 2000;

void check_count(const Node& root, const Brief& brief, Problems& problems) {
  std::size_t models = 0;
  for (const Brief& one : linkages_of(brief)) {
    const auto some = [](std::size_t n) { return std::max<std::size_t>(n, 1); };
    models += some(one.shocks.size()) * some(one.idlers.size()) * some(one.chainrings.size()) *
              some(one.layout.settings.size()) * some(one.layout.sizes.size());
  }
  if (models <= most_models) return;
  const Node* where = &root;
  for (const char* key : {"linkages", "sizes", "settings", "choose"})
    if (const Node* found = root.find(key)) where = found;
  problems.add(*where, "together, choices, settings, sizes and linkages make " + std::to_string(models) +
                           " layouts to compile; at most " + std::to_string(most_models) + " are allowed");
}

}  // namespace

void read_parts(const Node& root, Brief& brief, Problems& problems) {
  brief.inches_too = word(&root, "units") == both_word;
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
  for (const Problem& problem : with_files(*this)) text += text_of(problem) + "\n";
  return text;
}

Reading read_text(const std::string& text, const std::string& file, bool kept) {
  Reading reading;
  Brief& brief = reading.brief;
  brief.text = text;
  brief.file = file;
  brief.kept = kept;
  Problems problems;
  if (auto root = load_yaml(text, problems)) {
    check_shape(*root, problems);
    if (const Node* units = root->find("units"); units != nullptr && !units->written.empty()) {
      if (problems.empty()) brief.text = as_in_tree(text, *root);
      problems.end_numbers_with("; numbers without a unit are in mm");
    }
    if (root->find("linkages") != nullptr)
      read_linkages(*root, brief, problems);
    else
      read_parts(*root, brief, problems);
    if (problems.empty()) check_count(*root, brief, problems);
    if (problems.empty()) keep_references(*root, brief, problems);
  }
  reading.problems = problems.sorted();
  return reading;
}

Reading read_file(const std::filesystem::path& path) {
  try {
    return read_text(io::read_regular(path, size_limit), path.string());
  } catch (const io::FileFailure& failure) {
    Reading reading;
    reading.brief.file = path.string();
    reading.problems.push_back(
        {1, 1, "file",
         std::string("cannot be read, as it ") + failure.what() + "; give the path of a brief or layout"});
    return reading;
  }
}

}  // namespace trammel::brief
