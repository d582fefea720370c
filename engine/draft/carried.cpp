#include "draft/carried.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "brief/edit.hpp"
#include "brief/sift.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::draft {
namespace {

using brief::Node;

/// Keys that a layout's file has, and those that a search has answered.
constexpr std::array<std::string_view, 18> answered{"trammel", "title", "notes",  "bike",     "drivetrain", "linkage",
                                                    "shock",   "drive", "set_up", "loads",    "settings",   "sizes",
                                                    "sag",     "vary",  "choose", "linkages", "templates",  "travel"};

bool goes_on(const std::string& key) {
  return std::find(answered.begin(), answered.end(), key) == answered.end() && key != "chainstay";
}

Node tree_of(const std::string& text) {
  brief::Problems problems;
  auto root = brief::load_yaml(text, problems);
  if (!root || !problems.empty() || root->kind != Node::Kind::map) throw std::invalid_argument("not a brief");
  return std::move(*root);
}

/// The text with the gears that targets and bodies name by their cog alone named as "28x46".
std::string with_gears_named(const std::string& text, const bike::Layout& layout) {
  const Node root = tree_of(text);
  std::vector<brief::Change> changes;
  const auto rename = [&](const Node* node, const std::string& path) {
    if (node == nullptr || !node->text.starts_with('x')) return;
    for (const bike::Gear& gear : layout.drivetrain.gears)
      if ("x" + std::to_string(gear.cog) == node->text) {
        changes.push_back({path, std::to_string(gear.chainring) + node->text});
        return;
      }
  };
  const Node* targets = root.find("targets");
  for (std::size_t t = 0; targets != nullptr && t < targets->items.size(); ++t) {
    const std::string path = "targets[" + std::to_string(t) + "]";
    rename(targets->items[t].find("gear"), path + ".gear");
    if (const Node* gears = targets->items[t].find("gears"); gears != nullptr)
      for (std::size_t g = 0; g < gears->items.size(); ++g)
        rename(&gears->items[g], path + ".gears[" + std::to_string(g) + "]");
  }
  const Node* packaging = root.find("packaging");
  const Node* bodies = packaging == nullptr ? nullptr : packaging->find("bodies");
  for (std::size_t b = 0; bodies != nullptr && b < bodies->items.size(); ++b)
    rename(bodies->items[b].find("gear"), "packaging.bodies." + bodies->keys[b].text + ".gear");
  return brief::with_changes(text, changes);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t from = text.starts_with("\xEF\xBB\xBF") ? 3 : 0; from < text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    lines.push_back(text.substr(from, end - from));
    if (lines.back().ends_with('\r')) lines.back().pop_back();
    from = end + 1;
  }
  return lines;
}

bool is_remark(const std::string& line) {
  return line.empty() || line.front() == '#';
}

/// The lines of one key of a brief's text, with the remarks right above; as they stand.
std::string as_written(const std::vector<std::string>& lines, const Node& root, std::size_t key) {
  const auto line = [&](std::size_t k) {
    return k < root.keys.size() ? static_cast<std::size_t>(root.keys[k].mark.line - 1) : lines.size();
  };
  std::size_t from = line(key), to = line(key + 1);
  while (to > from && to <= lines.size() && is_remark(lines[to - 1])) --to;
  while (from > 0 && !lines[from - 1].empty() && lines[from - 1].front() == '#') --from;
  std::string out;
  for (std::size_t i = from; i < std::min(to, lines.size()); ++i) out += lines[i] + "\n";
  return out;
}

/// One key of a tree as text, as which trees are told apart too.
std::string alone(const Node& root, std::size_t key) {
  Node one;
  one.kind = Node::Kind::map;
  one.keys = {root.keys[key]};
  one.items = {root.items[key]};
  return brief::text_of(one);
}

bool says(const std::string& text, const std::string& wanted) {
  brief::Problems problems;
  const auto root = brief::load_yaml(text, problems);
  return root && problems.empty() && root->keys.size() == 1 && alone(*root, 0) == wanted;
}

}  // namespace

std::string carried_over(const std::string& as_read, const bike::Layout& layout) {
  const std::string text = with_gears_named(as_read, layout);
  const Node written = tree_of(text);
  Node root = written;
  const auto& names = layout.mechanism.point_names;
  brief::sift(root, [&](const std::string& name, brief::Mark, const std::string&) {
    return std::find(names.begin(), names.end(), name) != names.end();
  });
  const std::vector<std::string> lines = lines_of(text);
  std::string out;
  for (std::size_t key = 0; key < root.keys.size(); ++key) {
    if (!goes_on(root.keys[key].text)) continue;
    const bool empty = root.items[key].items.empty() && root.items[key].kind != Node::Kind::scalar;
    if (empty) continue;
    const std::string wanted = alone(root, key), there = as_written(lines, written, key);
    out += "\n" + (says(there, wanted) ? there : wanted);
  }
  return out;
}

bool has_targets(const std::string& text) {
  return tree_of(text).find("targets") != nullptr;
}

}  // namespace trammel::draft
