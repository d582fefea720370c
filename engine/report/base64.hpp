// Bytes as text.
#pragma once

#include <string>
#include <string_view>

namespace trammel::report {

/// RFC 4648, section 4: three bytes in four letters, the end filled with '='.
inline std::string base64(std::string_view bytes) {
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    unsigned held = 0;
    for (std::size_t i = 0; i < 3; ++i)
      held = held << 8u | (at + i < bytes.size() ? static_cast<unsigned char>(bytes[at + i]) : 0u);
    for (unsigned i = 0; i < 4; ++i) out += at + i > bytes.size() ? '=' : letters[held >> (18u - 6u * i) & 63u];
  }
  return out;
}

}  // namespace trammel::report
