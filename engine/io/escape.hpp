// Text from elsewhere made fit to be shown.
#pragma once

#include <string>
#include <string_view>

namespace trammel::io {

/// The first character of `text`, which is not empty: one of UTF-8 (RFC 3629), or a single byte that is none.
std::string_view first_character(std::string_view text);

/// A character as it may be shown. What would steer a terminal instead (the control characters of ECMA-48, C0, DEL and
/// C1), what turns its line around (the directional formatting characters of Unicode Standard Annex 9), the separators
/// of lines and paragraphs and bytes that are no UTF-8 are written out: \x1b, \u202e.
std::string escaped_character(std::string_view character);

enum class LineBreaks { escaped, kept };

/// All of a text so.
std::string escaped(std::string_view text, LineBreaks breaks = LineBreaks::escaped);

}  // namespace trammel::io
