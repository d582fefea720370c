#include "report/photo.hpp"

#include <algorithm>
#include <utility>

#include "brief/fields.hpp"

namespace trammel::report {
namespace {

using Size = std::pair<unsigned, unsigned>;

/// A whole number of `count` bytes, the most significant first; they are there.
unsigned number_at(std::string_view bytes, std::size_t at, std::size_t count) {
  unsigned out = 0;
  for (std::size_t i = 0; i < count; ++i) out = out << 8u | static_cast<unsigned char>(bytes[at + i]);
  return out;
}

/// Width and height of a PNG: its first chunk holds them (ISO/IEC 15948, 11.2.2).
std::optional<Size> png_size(std::string_view bytes) {
  if (bytes.size() < 33 || bytes.substr(12, 4) != "IHDR") return std::nullopt;
  return Size{number_at(bytes, 16, 4), number_at(bytes, 20, 4)};
}

/// Those of a JPEG, in the header of its frame (ITU-T T.81, B.2.2), past the segments before it.
std::optional<Size> jpeg_size(std::string_view bytes) {
  std::size_t at = 2;
  while (at + 4 <= bytes.size()) {
    if (number_at(bytes, at, 1) != 0xFFu) return std::nullopt;
    const unsigned marker = number_at(bytes, at + 1, 1);
    if (marker == 0xFFu) {  // fill bytes may stand before a marker
      ++at;
      continue;
    }
    const bool frame = marker >= 0xC0u && marker <= 0xCFu && marker != 0xC4u && marker != 0xC8u && marker != 0xCCu;
    if (frame) {
      if (at + 9 > bytes.size()) return std::nullopt;
      return Size{number_at(bytes, at + 7, 2), number_at(bytes, at + 5, 2)};
    }
    const unsigned length = number_at(bytes, at + 2, 2);
    if (length < 2 || marker == 0xD9u || marker == 0xDAu) return std::nullopt;
    at += 2 + length;
  }
  return std::nullopt;
}

}  // namespace

PhotoReading read_photo(std::string name, std::string bytes) {
  constexpr std::string_view png = "\x89PNG\r\n\x1a\n", jpeg = "\xFF\xD8\xFF";
  const bool is_png = std::string_view(bytes).starts_with(png), is_jpeg = std::string_view(bytes).starts_with(jpeg);
  if (bytes.empty()) return {{}, "is empty; allowed: a PNG or JPEG picture"};
  if (!is_png && !is_jpeg)
    return {{}, "is no picture that a browser can be counted on to show, by its first bytes; allowed: PNG or JPEG"};
  const auto size = is_png ? png_size(bytes) : jpeg_size(bytes);
  if (!size || size->first == 0 || size->second == 0)
    return {{},
            std::string("begins as a ") + (is_png ? "PNG" : "JPEG") +
                ", but does not say how large it is; it may be cut short"};
  const double most = brief::find_field("linkage.picture.points.*")->limits.hi;
  if (std::max(size->first, size->second) > most)
    return {{},
            "is " + std::to_string(size->first) + " x " + std::to_string(size->second) + " pixels; at most " +
                std::to_string(static_cast<int>(most)) + " each way are allowed"};
  return {Photo{std::move(name), std::move(bytes), is_png ? "image/png" : "image/jpeg", size->first, size->second}, {}};
}

}  // namespace trammel::report
