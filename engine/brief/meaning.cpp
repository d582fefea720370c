#include "brief/meaning.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "brief/fields.hpp"
#include "brief/scalar.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {
namespace {

std::string quoted(const std::string& text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

std::string scalar_text(const Node& node) {
  if (const auto flag = read_flag(node)) return *flag ? "true" : "false";
  if (const auto number = read_number(node).value) return exact_text(*number);
  return quoted(node.text);
}

/// A value that is looked at whole: a scalar, or numbers or names in square brackets.
std::string value_text(const Node& node) {
  if (node.kind != Node::Kind::list) return scalar_text(node);
  std::string text;
  for (const Node& item : node.items) text += (text.empty() ? "" : ", ") + value_text(item);
  return "[" + text + "]";
}

/// The names of a group in the order in which they stand.
std::string order_of(const Node& node) {
  std::string text;
  for (const Key& key : node.keys) text += (text.empty() ? "" : ", ") + key.text;
  return text;
}

std::string below(std::string path, const std::string& key) {
  if (!path.empty()) path += '.';
  return path += key;
}

/// One key with a value of its own.
struct Said {
  std::string path;
  std::string value;
  bool usual = false;  ///< it is the default
  bool notes = false;  ///< nothing follows from it
};

class Walk {
 public:
  explicit Walk(std::vector<Said>& said) : said_(said) {}

  /// `path` is where the value stands, `field` the path of its record.
  void walk(const Node& node, const std::string& path, const std::string& field) {
    const Field* record = find_field(field);
    const bool list = node.kind == Node::Kind::list && record != nullptr && record->shape == Shape::list;
    if (node.kind == Node::Kind::map) {
      for (std::size_t i = 0; i < node.items.size(); ++i) {
        const std::string& key = node.keys[i].text;
        const std::string named = below(field, key);
        walk(node.items[i], below(path, key), find_field(named) != nullptr ? named : below(field, "*"));
      }
      if (record != nullptr && record->shape == Shape::names)
        said_.push_back({path, "in this order: " + order_of(node), false});
    } else if (list && find_field(field + "[]")->shape == Shape::group) {
      for (std::size_t i = 0; i < node.items.size(); ++i)
        walk(node.items[i], path + "[" + std::to_string(i) + "]", field + "[]");
    } else if (node.kind != Node::Kind::nothing) {
      const std::string value = value_text(node);
      said_.push_back({path, value, record != nullptr && record->fallback == value,
                       record != nullptr && key_of(*record) == "notes"});
    }
  }

 private:
  std::vector<Said>& said_;
};

/// Sorts items of a list by their number: "targets[2]" before "targets[10]".
std::string sort_key(const std::string& path) {
  std::string key;
  for (std::size_t i = 0; i < path.size(); ++i) {
    key += path[i];
    if (path[i] == '[') key.append(8 - (path.find(']', i) - i), '0');  // a file has less than 10⁶ values
  }
  return key;
}

/// All that a brief says, sorted by path.
std::vector<Said> meaning(const std::string& text) {
  Problems problems;
  const auto root = load_yaml(text, problems);
  if (!root || !problems.empty()) throw std::invalid_argument("not a brief");
  std::vector<Said> said;
  Walk(said).walk(*root, "", "");
  std::sort(said.begin(), said.end(), [](const Said& a, const Said& b) { return sort_key(a.path) < sort_key(b.path); });
  return said;
}

}  // namespace

std::string meaning_text(const std::string& text) {
  std::string lines;
  for (const Said& said : meaning(text))
    if (!said.usual && !said.notes) lines += said.path + ": " + said.value + "\n";
  return lines;
}

std::vector<Difference> differences(const std::string& before, const std::string& after) {
  // Left out and the default are the same.
  std::map<std::string, std::pair<Said, Said>> all;
  const Said left_out{"", "", true};
  for (const Said& said : meaning(before)) all.try_emplace(said.path, left_out, left_out).first->second.first = said;
  for (const Said& said : meaning(after)) all.try_emplace(said.path, left_out, left_out).first->second.second = said;
  std::vector<Difference> out;
  for (const auto& [path, said] : all) {
    const auto& [a, b] = said;
    if (a.value != b.value && !(a.usual && b.usual)) out.push_back({path, a.value, b.value, a.notes || b.notes});
  }
  std::sort(out.begin(), out.end(),
            [](const Difference& a, const Difference& b) { return sort_key(a.path) < sort_key(b.path); });
  return out;
}

}  // namespace trammel::brief
