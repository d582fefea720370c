// What a scalar of the file means: number, flag or text, the same in every locale.
#pragma once

#include <optional>
#include <string>

#include "brief/marked_tree.hpp"

namespace trammel::brief {

/// A number, or why there is none.
struct NumberReading {
  std::optional<double> value;
  std::string flaw;  ///< set when `value` is not, e.g. "is not a finite number"
};

/// Reads a plain decimal scalar: 12, -3.5, .5, 6e-3. Quoted, hexadecimal, octal, infinite, not-a-number, leading zeros
/// (which some YAML readers take for octal), and non-zero numbers too small for a double are refused.
NumberReading read_number(const Node& node);

/// `true` or `false`, written without quotes.
std::optional<bool> read_flag(const Node& node);

/// True for a quoted scalar, and for a plain one that YAML 1.2's core schema takes for neither number, flag nor null.
bool is_text(const Node& node);

/// The shortest decimal text that reads back as the same number.
std::string exact_text(double number);
/// Up to six significant digits, for messages.
std::string rounded_text(double number);

}  // namespace trammel::brief
