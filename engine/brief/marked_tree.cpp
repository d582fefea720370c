#include "brief/marked_tree.hpp"

#include <numeric>

#include "io/escape.hpp"

namespace trammel::brief {

const Node* Node::find(std::string_view key) const {
  if (kind != Kind::map) return nullptr;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    if (keys[i].text == key) return &items[i];
  }
  return nullptr;
}

Node* Node::find(std::string_view key) {
  return const_cast<Node*>(static_cast<const Node*>(this)->find(key));
}

bool same_tree(const Node& a, const Node& b) {
  if (a.kind != b.kind || a.text != b.text || a.items.size() != b.items.size()) return false;
  for (std::size_t i = 0; i < a.items.size(); ++i)
    if (!same_tree(a.items[i], b.items[i]) || (!a.keys.empty() && a.keys[i].text != b.keys[i].text)) return false;
  return true;
}

std::size_t count_nodes(const Node& node) {
  return std::accumulate(node.items.begin(), node.items.end(), std::size_t{1},
                         [](std::size_t sum, const Node& item) { return sum + count_nodes(item); });
}

std::string printable(std::string_view text) {
  constexpr std::size_t longest = 48;
  std::string out;
  while (!text.empty()) {
    if (out.size() >= longest) return out + "...";
    const std::string_view character = io::first_character(text);
    text.remove_prefix(character.size());
    out += io::escaped_character(character);
  }
  return out;
}

std::string describe(const Node& node) {
  switch (node.kind) {
    case Node::Kind::nothing:
      return "nothing";
    case Node::Kind::scalar:
      if (!node.written.empty()) return printable(node.written) + " in (" + printable(node.text) + " mm)";
      return node.plain ? printable(node.text) : '"' + printable(node.text) + '"';
    case Node::Kind::list:
      return "a list of " + std::to_string(node.items.size());
    case Node::Kind::map:
      break;
  }
  return "a group of " + std::to_string(node.items.size()) + (node.items.size() == 1 ? " key" : " keys");
}

}  // namespace trammel::brief
