#include "report/inches.hpp"

#include <array>
#include <charconv>
#include <optional>
#include <utility>

#include "brief/units.hpp"
#include "report/digits.hpp"

namespace trammel::report {
namespace {

constexpr std::string_view unit = " mm";
constexpr std::string_view minus = "−";  // U+2212, as texts may have it beside the hyphen
/// What may stand between numbers that share one unit.
constexpr std::array<std::string_view, 5> joints{" to ", "–", " × ", " ± ", " and "};

bool digit(char c) {
  return c >= '0' && c <= '9';
}
/// Part of a word, a power or a quotient; bytes of other than Latin letters among them.
bool goes_on(char c) {
  return digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '/' || c == '_' ||
         (static_cast<unsigned char>(c) & 0x80u) != 0;
}

struct Number {
  std::size_t from = 0;  ///< where its sign or first digit stands
  double value = 0.0;
  int decimals = 0;
};

/// The decimal number that ends just before `end`.
std::optional<Number> number_before(std::string_view words, std::size_t end) {
  std::size_t from = end;
  std::size_t point = end;
  while (from > 0 && (digit(words[from - 1]) || (words[from - 1] == '.' && point == end && from < end))) {
    --from;
    if (words[from] == '.') point = from;
  }
  if (from == end || words[from] == '.') return {};
  Number out{from, 0.0, point == end ? 0 : static_cast<int>(end - point - 1)};
  if (std::from_chars(words.data() + from, words.data() + end, out.value).ec != std::errc()) return {};
  const std::string_view before = words.substr(0, from);
  const auto sign = [&](std::string_view one) {
    // Between two numbers it is a dash.
    return before.ends_with(one) && (before.size() == one.size() || !goes_on(before[before.size() - one.size() - 1]));
  };
  for (const std::string_view one : {minus, std::string_view("-")})
    if (sign(one)) return Number{from - one.size(), -out.value, out.decimals};
  if (!before.empty() && (digit(before.back()) || (before.back() >= 'A' && before.back() <= 'z'))) return {};
  return out;
}

std::string in_inches(const Number& number) {
  return shown(number.value / brief::mm_per_inch, number.decimals + 2);
}

/// The numbers before a place that share one unit, as inches; empty when there is none.
std::string inches_of(std::string_view words, std::size_t end) {
  constexpr std::string_view give_or_take = "± ";
  std::string out;
  for (auto number = number_before(words, end); number;) {
    out.insert(0, in_inches(*number));
    const std::string_view before = words.substr(0, number->from);
    number.reset();
    for (const std::string_view joint : joints) {
      if (!before.ends_with(joint)) continue;
      number = number_before(words, before.size() - joint.size());
      if (number) out.insert(0, joint);
      break;
    }
    if (!number && before.ends_with(give_or_take)) out.insert(0, give_or_take);
  }
  return out;
}

/// Where an element that is left alone ends; nothing when none starts here.
std::optional<std::size_t> left_alone(std::string_view page, std::size_t at) {
  for (const std::string_view name : {"script", "style", "pre", "textarea"}) {
    const std::string_view here = page.substr(at + 1);
    if (!here.starts_with(name) || here.size() == name.size() || goes_on(here[name.size()])) continue;
    return std::min(page.find("</" + std::string(name), at), page.size());
  }
  return {};
}

}  // namespace

std::string inches(double mm, int decimals) {
  return shown(mm / brief::mm_per_inch, decimals + 2) + " in";
}

std::string with_inches(std::string_view words) {
  std::string out;
  std::size_t told = 0;
  for (std::size_t at = words.find(unit); at != words.npos; at = words.find(unit, at + 1)) {
    const std::size_t end = at + unit.size();
    if (end < words.size() && goes_on(words[end])) continue;
    if (words.substr(end).starts_with(" per mm")) continue;  // a ratio
    const std::string same = inches_of(words.substr(told), at - told);
    if (same.empty()) continue;
    out.append(words, told, end - told).append(" (").append(same).append(" in)");
    told = end;
  }
  return out.append(words.substr(told));
}

std::string page_with_inches(std::string_view page) {
  std::string out;
  std::size_t at = 0;
  while (at < page.size()) {
    const std::size_t tag = std::min(page.find('<', at), page.size());
    out += with_inches(page.substr(at, tag - at));
    if (tag == page.size()) break;
    const std::size_t from = left_alone(page, tag).value_or(tag);
    at = std::min(page.find('>', from), page.size() - 1) + 1;
    out += page.substr(tag, at - tag);
  }
  return out;
}

}  // namespace trammel::report
