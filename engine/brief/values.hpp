// Typed values of a tree that has been through the shape check.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "brief/marked_tree.hpp"
#include "brief/scalar.hpp"

namespace trammel::brief {

/// The value of a key when it is there and free of problems, else null. Takes a null group as one without keys.
inline const Node* sound(const Node* group, std::string_view key) {
  const Node* node = group == nullptr ? nullptr : group->find(key);
  return node == nullptr || node->flawed ? nullptr : node;
}

inline std::optional<double> number(const Node* group, std::string_view key) {
  const Node* node = sound(group, key);
  return node == nullptr ? std::nullopt : read_number(*node).value;
}

/// Puts a number into `out` when the key is there; leaves the default otherwise.
template <class Number>
void take_number(const Node* group, std::string_view key, Number& out) {
  if (const auto value = number(group, key)) out = static_cast<Number>(*value);
}

inline void take_flag(const Node* group, std::string_view key, bool& out) {
  const Node* node = sound(group, key);
  if (node != nullptr) out = read_flag(*node).value_or(out);
}

/// The text of a word, name or text; empty when the key is absent.
inline std::string word(const Node* group, std::string_view key) {
  const Node* node = sound(group, key);
  return node == nullptr ? "" : node->text;
}

/// The two numbers of a point, interval or step.
inline std::optional<std::pair<double, double>> two_numbers(const Node* node) {
  if (node == nullptr || node->flawed || node->items.size() != 2) return {};
  const auto a = read_number(node->items[0]).value, b = read_number(node->items[1]).value;
  return a && b ? std::optional(std::pair(*a, *b)) : std::nullopt;
}

}  // namespace trammel::brief
