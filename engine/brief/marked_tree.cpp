#include "brief/marked_tree.hpp"

#include <numeric>

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

std::size_t count_nodes(const Node& node) {
  return std::accumulate(node.items.begin(), node.items.end(), std::size_t{1},
                         [](std::size_t sum, const Node& item) { return sum + count_nodes(item); });
}

std::string printable(std::string_view text) {
  constexpr std::size_t longest = 48;
  constexpr char digits[] = "0123456789abcdef";
  std::string out;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool starts_character = (byte & 0xC0u) != 0x80u;
    if (out.size() >= longest && starts_character) return out + "...";
    if (byte < 0x20u || byte == 0x7Fu) {
      out += "\\x";
      out += digits[byte >> 4u];
      out += digits[byte & 0xFu];
    } else {
      out += c;
    }
  }
  return out;
}

std::string describe(const Node& node) {
  switch (node.kind) {
    case Node::Kind::nothing:
      return "nothing";
    case Node::Kind::scalar:
      return node.plain ? printable(node.text) : '"' + printable(node.text) + '"';
    case Node::Kind::list:
      return "a list of " + std::to_string(node.items.size());
    case Node::Kind::map:
      break;
  }
  return "a group of " + std::to_string(node.items.size()) + (node.items.size() == 1 ? " key" : " keys");
}

}  // namespace trammel::brief
