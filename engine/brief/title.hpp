// Titles that are made from a brief's own.
#pragma once

#include <string>
#include <string_view>

namespace trammel::brief {

/// A title with what tells this layout from the others put behind it, "Trail bike, layout 3-1". Where both are longer
/// than a brief may have them, the title's end gives way to "…", so that what is written can be read again.
std::string made_title(std::string_view title, std::string_view which);

}  // namespace trammel::brief
