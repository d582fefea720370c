#include "objectives/in_words.hpp"

#include <cstdio>
#include <limits>

namespace trammel::objectives {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

}  // namespace

std::string number_text(double x) {
  char text[32];
  // As std::to_chars writes it with six digits, without its tables, which are a quarter of the module in a layout page;
  // the program's locale is C.
  std::snprintf(text, sizeof text, "%.6g", x);
  return text;
}

std::string with_unit(double x, std::string_view unit) {
  return number_text(x) + (unit.empty() ? "" : " " + std::string(unit));
}

std::string in_words(const Interval& i, std::string_view unit) {
  if (i.lo == -infinity) return "at most " + with_unit(i.hi, unit);
  if (i.hi == infinity) return "at least " + with_unit(i.lo, unit);
  return i.lo == i.hi ? with_unit(i.lo, unit) : number_text(i.lo) + " to " + with_unit(i.hi, unit);
}

}  // namespace trammel::objectives
