// What a brief's author wants remembered. Nothing is computed from it, so it stays in the text until it is shown.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "brief/fields.hpp"

namespace trammel::brief {

/// How many characters notes may have.
inline constexpr Limits notes_length{1.0, 1000.0};

/// How many characters a text may have.
inline std::size_t most_characters(const Field& text) {
  return std::isfinite(text.limits.hi) ? static_cast<std::size_t>(text.limits.hi) : longest_text;
}

struct Notes {
  std::string layout;                ///< of the whole brief or layout; may have several lines
  std::vector<std::string> targets;  ///< of each target that the brief lists; empty texts where there are none
  /// Of a target by its number; of one that is sound by default there are none.
  std::string of_target(std::size_t number) const { return number < targets.size() ? targets[number] : ""; }
};

/// The notes of a brief or layout, without blank ends.
Notes notes_of(const Brief& brief);

}  // namespace trammel::brief
