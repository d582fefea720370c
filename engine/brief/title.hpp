// Titles that are made from a brief's own, and texts cut to a length.
#pragma once

#include <string>
#include <string_view>

namespace trammel::brief {

/// A title with what tells this layout from the others put behind it, "Trail bike, layout 3-1". Where both are longer
/// than a brief may have them, the title's end gives way to "…", so that what is written can be read again.
std::string made_title(std::string_view title, std::string_view which);

/// The first `most` characters of a text in UTF-8, the last of them "…" where more follows.
std::string shortened(std::string_view text, std::size_t most);

}  // namespace trammel::brief
