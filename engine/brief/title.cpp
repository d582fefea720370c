#include "brief/title.hpp"

#include <algorithm>

#include "brief/fields.hpp"

namespace trammel::brief {
namespace {

bool begins_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins_character));
}

/// The first so many characters of a text in UTF-8.
std::string_view first(std::string_view text, std::size_t count) {
  std::size_t end = 0;
  for (std::size_t seen = 0; end < text.size(); ++end)
    if (begins_character(text[end]) && ++seen > count) break;
  return text.substr(0, end);
}

}  // namespace

std::string shortened(std::string_view text, std::size_t most) {
  if (characters(text) <= most) return std::string(text);
  const std::string_view kept = first(text, most - std::min<std::size_t>(most, 1));
  return std::string(kept.substr(0, kept.find_last_not_of(' ') + 1)) + "…";
}

std::string made_title(std::string_view title, std::string_view which) {
  const std::size_t behind = which.empty() ? 0 : characters(which) + 2;
  std::string out = shortened(title, longest_text - std::min(longest_text, behind));
  if (!which.empty()) out.append(", ").append(which);
  return out;
}

}  // namespace trammel::brief
