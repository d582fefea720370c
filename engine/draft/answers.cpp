#include "draft/answers.hpp"

#include <algorithm>
#include <charconv>

#include "brief/fields.hpp"
#include "brief/problems.hpp"
#include "brief/scalar.hpp"
#include "brief/shipped_templates.hpp"
#include "objectives/sound.hpp"

namespace trammel::draft {
namespace {

constexpr double least_travel = 40.0, most_travel = 300.0;
constexpr double shortest = 20.0, longest = 1500.0, least_stroke = 1.0, most_stroke = 500.0;  // as a brief allows

std::string given(std::string_view words) {
  return "'" + brief::printable(words) + "' was given";
}

std::string trimmed(std::string_view words) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r'; };
  while (!words.empty() && blank(words.front())) words.remove_prefix(1);
  while (!words.empty() && blank(words.back())) words.remove_suffix(1);
  return std::string(words);
}

/// A number and nothing else but a unit behind it.
std::optional<double> number_of(std::string_view words, std::string_view unit) {
  std::string text = trimmed(words);
  if (!unit.empty() && text.size() > unit.size() && text.ends_with(unit))
    text = trimmed(std::string_view(text).substr(0, text.size() - unit.size()));
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, value, std::chars_format::fixed);
  if (read.ec != std::errc() || read.ptr != end) return std::nullopt;
  return value;
}

const UsualWheel* find_wheel(std::string_view words) {
  std::string name = trimmed(words);
  if (name.ends_with('"')) name.pop_back();
  const auto all = usual_wheels();
  const auto found = std::find_if(all.begin(), all.end(), [&](const UsualWheel& one) { return one.name == name; });
  return found == all.end() ? nullptr : &*found;
}

/// The two sides of "210x55" or "210×55"; empty ones where there is no such sign.
std::pair<std::string, std::string> two_sides(std::string_view words) {
  for (const std::string_view sign : {"x", "X", "×", "*"})
    if (const auto at = words.find(sign); at != words.npos)
      return {std::string(words.substr(0, at)), std::string(words.substr(at + sign.size()))};
  return {};
}

}  // namespace

Reading<bike::Kind> read_kind(std::string_view words) {
  std::string key = trimmed(words);
  std::replace(key.begin(), key.end(), '-', '_');
  std::replace(key.begin(), key.end(), ' ', '_');
  if (const auto kind = bike::find_kind(key)) return {kind, {}};
  std::vector<std::string> known;
  known.reserve(bike::kind_table.size());
  for (const bike::KindRecord& record : bike::kind_table) known.emplace_back(record.key);
  return {{}, given(words) + "; allowed: " + brief::join(known) + brief::suggestion(key, known)};
}

Reading<double> read_travel(std::string_view words) {
  const auto value = number_of(words, "mm");
  if (value && *value >= least_travel && *value <= most_travel) return {value, {}};
  return {{},
          given(words) + "; allowed: wheel travel in mm, from " + brief::rounded_text(least_travel) + " to " +
              brief::rounded_text(most_travel)};
}

Reading<Wheels> read_wheels(std::string_view words) {
  const auto slash = words.find('/');
  const Wheels both{find_wheel(words.substr(0, slash)),
                    find_wheel(slash == words.npos ? words : words.substr(slash + 1))};
  if (both.front != nullptr && both.rear != nullptr) return {both, {}};
  std::vector<std::string> known;
  for (const UsualWheel& one : usual_wheels()) known.emplace_back(one.name);
  return {{},
          given(words) + "; allowed: the diameter in inches, " + brief::join(known) +
              ", or front and rear, such as 29/27.5"};
}

Reading<std::string> read_linkage(std::string_view words) {
  std::string name = trimmed(words);
  std::replace(name.begin(), name.end(), '-', '_');
  std::vector<std::string> known;
  for (const brief::ShippedTemplate& one : brief::shipped_templates()) known.push_back(one.name);
  if (std::find(known.begin(), known.end(), name) != known.end()) return {name, {}};
  return {{}, given(words) + "; allowed: " + brief::join(known) + brief::suggestion(name, known)};
}

Reading<brief::ShockSize> read_shock(std::string_view words, double travel) {
  const auto [left, right] = two_sides(words);
  const auto length = number_of(left, "mm"), stroke = number_of(right, "mm");
  if (!length || !stroke) return {{}, given(words) + "; allowed: eye to eye and stroke in mm, such as 210x55"};
  if (!(*length >= shortest && *length <= longest && *stroke >= least_stroke && *stroke <= most_stroke) ||
      *stroke >= *length)
    return {{},
            given(words) + "; allowed: eye to eye from " + brief::rounded_text(shortest) + " to " +
                brief::rounded_text(longest) + " mm, and a stroke that is shorter"};
  const auto leverage = objectives::sound_limits()[static_cast<std::size_t>(objectives::Sound::leverage_range)];
  const double mean = travel / *stroke;
  if (leverage && !(mean > leverage->lo && mean < leverage->hi))
    return {{},
            given(words) + ", on which " + brief::rounded_text(travel) + " mm of travel are a mean leverage of " +
                brief::rounded_text(mean) + "; allowed: from " + brief::rounded_text(leverage->lo) + " to " +
                brief::rounded_text(leverage->hi) + ", a stroke from " + brief::rounded_text(travel / leverage->hi) +
                " to " + brief::rounded_text(travel / leverage->lo) + " mm"};
  return {brief::ShockSize{*length, *stroke}, {}};
}

Reading<std::string> read_title(std::string_view words) {
  const std::string text = trimmed(words);
  const auto letters =
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; });
  if (!text.empty() && letters <= static_cast<std::ptrdiff_t>(brief::longest_text)) return {text, {}};
  return {{}, given(words) + "; allowed: text of 1 to " + std::to_string(brief::longest_text) + " characters"};
}

std::string shock_name(const brief::ShockSize& shock) {
  return brief::rounded_text(shock.length) + "x" + brief::rounded_text(shock.stroke);
}

}  // namespace trammel::draft
