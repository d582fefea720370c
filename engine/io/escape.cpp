#include "io/escape.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace trammel::io {
namespace {

/// How many bytes a character takes whose first byte this is; 0 = none begins so.
std::size_t length_of(unsigned char first) {
  if (first < 0x80u) return 1;
  if (first >= 0xC2u && first <= 0xDFu) return 2;
  if (first >= 0xE0u && first <= 0xEFu) return 3;
  return first >= 0xF0u && first <= 0xF4u ? 4 : 0;
}

constexpr std::uint32_t no_character = 0xFFFFFFFFu;

/// The number of a whole character; no_character for a byte that is none.
std::uint32_t code_point(std::string_view character) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(character[i])); };
  if (character.size() == 1) return byte(0) < 0x80u ? byte(0) : no_character;
  std::uint32_t code = byte(0) & (0x7Fu >> character.size());
  for (std::size_t i = 1; i < character.size(); ++i) code = code << 6u | (byte(i) & 0x3Fu);
  return code;
}

bool steers(std::uint32_t code) {
  struct Span {
    std::uint32_t first, last;
  };
  constexpr std::array spans{Span{0x00, 0x1F},     Span{0x7F, 0x9F},     Span{0x61C, 0x61C},
                             Span{0x200E, 0x200F}, Span{0x2028, 0x202E}, Span{0x2066, 0x2069}};
  return std::any_of(spans.begin(), spans.end(),
                     [&](const Span& span) { return code >= span.first && code <= span.last; });
}

std::string written_out(char letter, std::uint32_t number, int digits) {
  std::string out{'\\', letter};
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) out += "0123456789abcdef"[number >> shift & 0xFu];
  return out;
}

}  // namespace

std::string_view first_character(std::string_view text) {
  const std::size_t length = length_of(static_cast<unsigned char>(text.front()));
  if (length < 2 || length > text.size()) return text.substr(0, 1);
  const std::string_view character = text.substr(0, length);
  const bool continued = std::all_of(character.begin() + 1, character.end(),
                                     [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; });
  if (!continued) return text.substr(0, 1);
  // Written longer than needed, a half of a pair, or beyond the last: no characters either.
  const std::uint32_t code = code_point(character);
  const bool sound = (length != 3 || (code >= 0x800u && (code < 0xD800u || code > 0xDFFFu))) &&
                     (length != 4 || (code >= 0x10000u && code <= 0x10FFFFu));
  return sound ? character : text.substr(0, 1);
}

std::string escaped_character(std::string_view character) {
  const std::uint32_t code = code_point(character);
  if (code == no_character) return written_out('x', static_cast<unsigned char>(character.front()), 2);
  if (!steers(code)) return std::string(character);
  return code < 0x80u ? written_out('x', code, 2) : written_out('u', code, 4);
}

std::string escaped(std::string_view text, LineBreaks breaks) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const std::string_view character = first_character(text);
    text.remove_prefix(character.size());
    if (character == "\n" && breaks == LineBreaks::kept)
      out += '\n';
    else
      out += escaped_character(character);
  }
  return out;
}

}  // namespace trammel::io
