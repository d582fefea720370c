// Sizes in which shocks are made.
#pragma once

#include <string_view>
#include <vector>

#include "brief/brief.hpp"

namespace trammel::brief {

/// Sizes by their word: "metric" with two eyes, "trunnion" with bolts in the shock's body at one end, "standard" both.
/// Length topped out between the two axes, and stroke, mm. Common practice, no source; makers offer further strokes.
std::vector<ShockSize> shock_sizes(std::string_view word);

}  // namespace trammel::brief
