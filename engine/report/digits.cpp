#include "report/digits.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace trammel::report {

namespace {

template <class... Format>
std::string converted(double x, Format... format) {
  std::array<char, 400> buffer;  // the longest double in fixed form has 309 digits before the point
  const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), x, format...);
  return {buffer.data(), result.ptr};
}

}  // namespace

std::string exact(double x) {
  if (!std::isfinite(x)) throw std::invalid_argument("a number to be written is not finite");
  const double size = std::abs(x);
  if (size == 0.0 || (size >= 1e-6 && size < 1e15)) return converted(x, std::chars_format::fixed);
  // YAML 1.1 readers take 1e-07 for text, 1.0e-07 for a number.
  std::string out = converted(x, std::chars_format::scientific);
  if (out.find('.') == std::string::npos) out.insert(out.find('e'), ".0");
  return out;
}

std::string shown(double x, int decimals) {
  if (!std::isfinite(x)) return "–";
  if (std::abs(x) >= 1e15) return significant(x, 4);
  std::string out = converted(x, std::chars_format::fixed, decimals);
  const bool zero = out.find_first_not_of("-0.") == std::string::npos;
  return zero && out.front() == '-' ? out.substr(1) : out;
}

std::string significant(double x, int digits) {
  if (!std::isfinite(x)) return "–";
  return converted(x == 0.0 ? 0.0 : x, std::chars_format::general, digits);
}

std::string grouped(long long n) {
  std::string digits = std::to_string(n < 0 ? -n : n);
  for (int at = static_cast<int>(digits.size()) - 3; at > 0; at -= 3) {
    digits.insert(static_cast<std::size_t>(at), "\u202F");
  }
  return n < 0 ? "-" + digits : digits;
}

int decimals_for(double tolerance) {
  if (!(tolerance > 0.0) || !std::isfinite(tolerance)) return 3;
  return std::clamp(1 - static_cast<int>(std::floor(std::log10(tolerance))), 0, 6);
}

}  // namespace trammel::report
