// The unit of a file's lengths. Everything behind the shape check is in mm.
#pragma once

#include <string_view>

#include "brief/fields.hpp"
#include "brief/marked_tree.hpp"

namespace trammel::brief {

/// By definition (ISO 31-1; the international yard and pound agreement of 1959), from memory.
inline constexpr double mm_per_inch = 25.4;
/// Lengths of the file are in inches, and reports give both.
inline constexpr std::string_view inch_word = "inch";
/// Lengths of the file are in mm, and reports give both. What a brief in inches says once it has been read.
inline constexpr std::string_view both_word = "mm_and_inch";

/// Whether the lengths of a whole file are in inches.
bool in_inches(const Node& root);

/// Whether a brief in inches gives what stands here in inches.
bool is_length(const Field& field);
/// The record of a length for a brief in inches: its limits rounded inwards to four decimals.
Field in_inches(const Field& field);

/// A sound value of a shape from inches to mm, to a millionth of a thousandth; what was there is kept as `written`.
/// Names stay.
void to_mm(Node& value, Shape shape);
/// Of a target what is in the unit of its curve or measure, if that is mm.
void target_to_mm(Node& target);

}  // namespace trammel::brief
