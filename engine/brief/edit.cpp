#include "brief/edit.hpp"

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "brief/meaning.hpp"
#include "brief/scalar.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {
namespace {

/// One part of a path: a key, or the number of an item.
struct Step {
  std::string key;  ///< empty: an item
  std::size_t item = 0;
};

std::vector<Step> steps_of(const std::string& path) {
  std::vector<Step> steps;
  for (std::size_t at = 0; at < path.size();) {
    if (path[at] == '[') {
      Step step;
      const char* end = path.data() + path.size();
      const auto read = std::from_chars(path.data() + at + 1, end, step.item);
      if (read.ec != std::errc() || read.ptr == end || *read.ptr != ']')
        throw std::invalid_argument("no path: " + path);
      steps.push_back(step);
      at = static_cast<std::size_t>(read.ptr - path.data()) + 1;
      if (at < path.size() && path[at] == '.') ++at;
    } else {
      const std::size_t end = std::min(path.find_first_of(".[", at), path.size());
      steps.push_back({path.substr(at, end - at)});
      at = end + (end < path.size() && path[end] == '.' ? 1 : 0);
    }
  }
  return steps;
}

const Node* child(const Node& node, const Step& step) {
  if (!step.key.empty()) return node.find(step.key);
  return node.kind == Node::Kind::list && step.item < node.items.size() ? &node.items[step.item] : nullptr;
}

std::optional<Node> tree_of(const std::string& text) {
  Problems problems;
  auto root = load_yaml(text, problems);
  return root && problems.empty() ? std::move(root) : std::nullopt;
}

/// Where a mark points to in the text; npos when it does not.
std::size_t offset_of(const std::string& text, Mark mark) {
  std::size_t line = text.starts_with("\xEF\xBB\xBF") ? 3 : 0;
  for (int i = 1; i < mark.line; ++i) {
    line = text.find('\n', line);
    if (line == text.npos) return text.npos;
    ++line;
  }
  const std::size_t at = line + static_cast<std::size_t>(mark.column - 1);
  return at < text.size() ? at : text.npos;
}

/// Where a scalar is written; nothing when it is not found where it should be.
std::optional<std::pair<std::size_t, std::size_t>> span_of(const std::string& text, const Node& scalar) {
  std::size_t from = offset_of(text, scalar.mark);
  if (from == text.npos) return std::nullopt;
  if (text[from] == '&') from = text.find_first_not_of(" \t", text.find_first_of(" \t\n", from));  // past its anchor
  if (from == text.npos) return std::nullopt;
  if (scalar.plain) {
    if (text.compare(from, scalar.text.size(), scalar.text) != 0) return std::nullopt;
    return std::pair(from, from + scalar.text.size());
  }
  const std::size_t end = text.find(text[from], from + 1);
  if ((text[from] != '"' && text[from] != '\'') || end == text.npos) return std::nullopt;
  return std::pair(from, end + 1);
}

/// Every scalar of a tree whose text is no longer as written.
void collect_rewritten(const Node& node, std::vector<const Node*>& out) {
  if (!node.written.empty()) out.push_back(&node);
  for (const Node& item : node.items) collect_rewritten(item, out);
}

/// `value` as the value of these keys, one inside the other.
std::string nested(const std::vector<Step>& steps, std::size_t from, const std::string& value) {
  std::string before, after;
  for (std::size_t i = from; i < steps.size(); ++i) {
    before.append("{ ").append(steps[i].key).append(": ");
    after.append(" }");
  }
  return before + value + after;
}

/// Puts a key into a group of the text. Nothing when the group is written in a way that this does not know.
std::optional<std::string> with_key(const std::string& text, const Node& root, const Node& group,
                                    const std::string& line) {
  if (group.kind != Node::Kind::map || group.keys.empty()) return std::nullopt;
  const std::size_t start = offset_of(text, group.mark), first = offset_of(text, group.keys[0].mark);
  if (start == text.npos || first == text.npos) return std::nullopt;
  std::string out = text;
  if (text[start] == '{') return out.insert(start + 1, " " + line + ",");
  if (&group == &root) return out + (text.ends_with('\n') ? "" : "\n") + line + "\n";
  const std::size_t indent = static_cast<std::size_t>(group.keys[0].mark.column - 1);
  return out.insert(first, line + "\n" + std::string(indent, ' '));
}

/// The text with one value changed where it stands; nothing when that is not possible.
std::optional<std::string> changed_in_place(const std::string& text, const Change& change) {
  const auto root = tree_of(text);
  if (!root) return std::nullopt;
  const std::vector<Step> steps = steps_of(change.path);
  const Node* node = &*root;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (const Node* next = child(*node, steps[i])) {
      node = next;
      continue;
    }
    const bool keys = std::none_of(steps.begin() + static_cast<std::ptrdiff_t>(i), steps.end(),
                                   [](const Step& step) { return step.key.empty(); });
    if (!keys) return std::nullopt;
    return with_key(text, *root, *node, steps[i].key + ": " + nested(steps, i + 1, change.value));
  }
  if (node->kind != Node::Kind::scalar) return std::nullopt;
  const auto span = span_of(text, *node);
  if (!span) return std::nullopt;
  return text.substr(0, span->first) + change.value + text.substr(span->second);
}

/// Whether the one text says what the other does but for the value at a path.
bool only_differs_at(const std::string& before, const std::string& after, const Change& change) {
  const auto root = tree_of(after), wanted = tree_of("value: " + change.value);
  const Node* node = root ? node_at(*root, change.path) : nullptr;
  if (node == nullptr || !wanted || node->text != wanted->find("value")->text) return false;
  const std::vector<Difference> all = differences(before, after);
  return all.empty() || (all.size() == 1 && change.path.starts_with(all[0].path));
}

std::string quoted(const std::string& text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

/// A value in one line.
std::string in_line(const Node& node) {
  if (node.kind == Node::Kind::nothing) return "null";
  if (node.kind == Node::Kind::scalar) return node.plain && !is_text(node) ? node.text : quoted(node.text);
  const bool map = node.kind == Node::Kind::map;
  std::string out = map ? "{ " : "[";
  for (std::size_t i = 0; i < node.items.size(); ++i)
    out += (i == 0 ? "" : ", ") + (map ? node.keys[i].text + ": " : std::string()) + in_line(node.items[i]);
  return out + (map ? " }" : "]");
}

/// The brief written anew with one value changed.
std::string changed_anew(const std::string& text, const Change& change) {
  auto root = tree_of(text);
  if (!root || root->kind != Node::Kind::map) throw std::invalid_argument("not a brief");
  Node* node = &*root;
  for (const Step& step : steps_of(change.path)) {
    Node* next = const_cast<Node*>(child(*node, step));
    if (next == nullptr) {
      if (step.key.empty() || node->kind == Node::Kind::list || node->kind == Node::Kind::scalar)
        throw std::invalid_argument("nothing stands at " + change.path);
      node->kind = Node::Kind::map;
      node->keys.push_back({step.key, {}});
      next = &node->items.emplace_back();
    }
    node = next;
  }
  const auto value = tree_of("value: " + change.value);
  if (!value) throw std::invalid_argument("not a value: " + change.value);
  *node = *value->find("value");
  return text_of(*root);
}

}  // namespace

const Node* node_at(const Node& root, const std::string& path) {
  const Node* node = &root;
  for (const Step& step : steps_of(path)) {
    node = child(*node, step);
    if (node == nullptr) return nullptr;
  }
  return node;
}

std::string text_of(const Node& root) {
  std::string out;
  for (std::size_t i = 0; i < root.items.size(); ++i) {
    const Node& value = root.items[i];
    const bool map = value.kind == Node::Kind::map;
    if (value.items.empty() || (!map && value.items[0].kind == Node::Kind::scalar)) {
      out += root.keys[i].text + ": " + in_line(value) + "\n";
      continue;
    }
    out += root.keys[i].text + ":\n";
    for (std::size_t k = 0; k < value.items.size(); ++k)
      out += (map ? "  " + value.keys[k].text + ": " : std::string("  - ")) + in_line(value.items[k]) + "\n";
  }
  return out;
}

std::string as_in_tree(const std::string& text, const Node& root) {
  std::vector<const Node*> rewritten;
  collect_rewritten(root, rewritten);
  if (rewritten.empty()) return text;
  // From the end, so that the places before stay where they are.
  std::sort(rewritten.begin(), rewritten.end(), [](const Node* a, const Node* b) {
    return std::pair(a->mark.line, a->mark.column) > std::pair(b->mark.line, b->mark.column);
  });
  std::string out = text;
  for (const Node* node : rewritten) {
    Node there = *node;
    there.text = node->written;
    const auto span = span_of(out, there);
    if (!span) return text_of(root);
    out.replace(span->first, span->second - span->first, node->plain ? node->text : quoted(node->text));
  }
  const auto again = tree_of(out);
  return again && same_tree(*again, root) ? out : text_of(root);
}

std::string with_changes(const std::string& text, const std::vector<Change>& changes) {
  std::string out = text;
  for (const Change& change : changes) {
    const auto there = changed_in_place(out, change);
    out = there && only_differs_at(out, *there, change) ? *there : changed_anew(out, change);
  }
  return out;
}

}  // namespace trammel::brief
