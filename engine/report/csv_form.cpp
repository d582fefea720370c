#include "report/csv_form.hpp"

#include <algorithm>
#include <charconv>

namespace trammel::report {

bool is_number(std::string_view field) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(field.data(), field.data() + field.size(), value);
  return error == std::errc() && end == field.data() + field.size();
}

std::string quoted(const std::string& field) {
  if (field.find_first_of(",;\"\t\r\n") == std::string::npos) return field;
  std::string out = "\"";
  for (const char c : field) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

std::string in_form(const std::string& csv, TableForm form) {
  if (form == TableForm::commas) return csv;
  std::string out;
  for (std::size_t at = 0; at < csv.size();) {
    // One field as it stands, quotes and all, and what ends it: a comma or a line's end.
    std::size_t end = at;
    for (bool inside = false; end < csv.size() && (inside || (csv[end] != ',' && csv[end] != '\r')); ++end)
      inside ^= csv[end] == '"';
    std::string field = csv.substr(at, end - at);
    if (is_number(field)) std::replace(field.begin(), field.end(), '.', ',');
    out += field;
    const bool line_ends = end < csv.size() && csv[end] == '\r';
    out += line_ends ? "\r\n" : ";";
    at = end + (line_ends ? 2 : 1);
  }
  return out;
}

}  // namespace trammel::report
