#include "brief/scalar.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

namespace trammel::brief {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::string_view without_sign(std::string_view text) {
  if (!text.empty() && (text.front() == '+' || text.front() == '-')) text.remove_prefix(1);
  return text;
}

std::string_view take_digits(std::string_view& text) {
  const auto end = std::find_if_not(text.begin(), text.end(), is_digit);
  const auto digits = text.substr(0, static_cast<std::size_t>(end - text.begin()));
  text.remove_prefix(digits.size());
  return digits;
}

/// [-+]? ( [0-9]+ ( \. [0-9]* )? | \. [0-9]+ ) ( [eE] [-+]? [0-9]+ )?
bool is_decimal(std::string_view text) {
  text = without_sign(text);
  const bool whole = !take_digits(text).empty();
  bool fraction = false;
  if (!text.empty() && text.front() == '.') {
    text.remove_prefix(1);
    fraction = !take_digits(text).empty();
  }
  if (!whole && !fraction) return false;
  if (text.empty()) return true;
  if (text.front() != 'e' && text.front() != 'E') return false;
  text = without_sign(text.substr(1));
  return !take_digits(text).empty() && text.empty();
}

bool is_based_integer(std::string_view text) {
  if (text.size() < 3 || text[0] != '0') return false;
  const auto all = [&](std::string_view digits) { return text.find_first_not_of(digits, 2) == text.npos; };
  return (text[1] == 'x' && all("0123456789abcdefABCDEF")) || (text[1] == 'o' && all("01234567"));
}

bool is_special(std::string_view text) {
  const auto among = [&](std::initializer_list<std::string_view> words) {
    return std::find(words.begin(), words.end(), text) != words.end();
  };
  if (among({".nan", ".NaN", ".NAN"})) return true;
  text = without_sign(text);
  return among({".inf", ".Inf", ".INF"});
}

bool is_flag_word(std::string_view text) {
  constexpr std::array<std::string_view, 6> words{"true", "True", "TRUE", "false", "False", "FALSE"};
  return std::find(words.begin(), words.end(), text) != words.end();
}

std::string to_text(double number, auto... format) {
  std::array<char, 64> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, format...).ptr;
  return {buffer.data(), end};
}

}  // namespace

NumberReading read_number(const Node& node) {
  if (node.kind != Node::Kind::scalar) return {{}, "is not a number"};
  if (!node.plain) return {{}, "is text; write the number without quotes"};
  if (is_special(node.text)) return {{}, "is not a finite number"};
  if (is_based_integer(node.text)) return {{}, "is not a decimal number"};
  if (!is_decimal(node.text)) return {{}, "is not a number (decimal point, no unit)"};

  std::string_view digits = without_sign(node.text);
  if (digits.size() > 1 && digits[0] == '0' && is_digit(digits[1])) {
    return {{}, "has a leading zero, which some readers take for octal; write it without"};
  }
  double value = 0.0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const std::string_view mantissa = digits.substr(0, digits.find_first_of("eE"));
  const bool zero = mantissa.find_first_of("123456789") == mantissa.npos;
  if (!zero && (error != std::errc{} || value == 0.0 || !std::isfinite(value))) {
    return {{}, "is beyond what a double-precision number holds"};
  }
  if (zero) value = 0.0;
  return {node.text.front() == '-' ? -value : value, {}};
}

std::optional<bool> read_flag(const Node& node) {
  if (node.kind != Node::Kind::scalar || !node.plain || !is_flag_word(node.text)) return {};
  return node.text.front() == 't' || node.text.front() == 'T';
}

bool is_text(const Node& node) {
  if (node.kind != Node::Kind::scalar) return false;
  if (!node.plain) return true;
  return !is_decimal(node.text) && !is_based_integer(node.text) && !is_special(node.text) && !is_flag_word(node.text);
}

std::string exact_text(double number) {
  return to_text(number);
}
std::string rounded_text(double number) {
  return to_text(number, std::chars_format::general, 6);
}

}  // namespace trammel::brief
