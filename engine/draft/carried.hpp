// What of a brief goes on with a layout of it: wishes, packaging, options of the search and whatever else is not the
// layout itself.
#pragma once

#include <string>
#include <vector>

#include "bike/layout.hpp"

namespace trammel::draft {

/// The groups of a brief's text that a layout's own file does not have, with their comments where that can be: all but
/// `vary`, `choose` and what the layout says itself. A gear that is named by its cog alone, because the brief chooses
/// the chainring, is named as on the layout. What is said of points that the layout has not, as a brief of several
/// linkages may, is left out. `text` is one that the brief's reader takes.
std::string carried_over(const std::string& text, const bike::Layout& layout);

/// Whether a brief's text wishes anything.
bool has_targets(const std::string& text);

}  // namespace trammel::draft
