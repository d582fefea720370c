#include "brief/fields.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include "brief/scalar.hpp"

namespace trammel::brief {

bool Limits::hold(double number) const {
  const bool over = lo_open ? number > lo : number >= lo;
  const bool under = hi_open ? number < hi : number <= hi;
  return over && under && !(not_zero && number == 0.0);
}

std::string Limits::words() const {
  constexpr double endless = std::numeric_limits<double>::infinity();
  if (lo == hi) return exact_text(lo);
  const bool closed = lo > -endless && hi < endless && !lo_open && !hi_open;
  if (closed) return "from " + exact_text(lo) + " to " + exact_text(hi) + (not_zero ? ", not 0" : "");
  std::string text;
  if (lo > -endless) text = (lo_open ? "above " : "at least ") + exact_text(lo);
  if (hi < endless) {
    text += (text.empty() ? "" : ", ") + std::string(hi_open ? "below " : "at most ") + exact_text(hi);
  }
  if (not_zero) text += text.empty() ? "not 0" : ", not 0";
  return text;
}

std::vector<std::string> Choice::concerned() const {
  std::vector<std::string> keys = never;
  const auto add = [&](const std::vector<std::string>& more) {
    for (const auto& key : more) {
      if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
    }
  };
  for (const auto& form : forms) {
    add(form.required);
    add(form.optional);
  }
  return keys;
}

const Field* find_field(std::string_view path) {
  const auto& all = fields();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Field& field) { return field.path == path; });
  return found == all.end() ? nullptr : &*found;
}

std::vector<const Field*> keys_of(std::string_view path) {
  const std::string start = path.empty() ? "" : std::string(path) + ".";
  std::vector<const Field*> found;
  for (const auto& field : fields()) {
    if (field.path.empty() || !field.path.starts_with(start)) continue;
    const std::string_view rest = std::string_view(field.path).substr(start.size());
    if (rest.find_first_of(".[*") == rest.npos) found.push_back(&field);
  }
  return found;
}

std::string key_of(const Field& field) {
  return field.path.substr(field.path.rfind('.') + 1);
}

namespace {
constexpr std::array<std::string_view, 9> misread_words{"on", "off", "yes", "no", "y", "n", "true", "false", "null"};
constexpr std::size_t longest_name = 40;
}  // namespace

bool is_name(std::string_view text) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const auto inner = [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '_' || c == '-'; };
  if (text.empty() || text.size() > longest_name || !letter(text.front())) return false;
  if (!std::all_of(text.begin(), text.end(), inner)) return false;
  std::string lower(text);
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); });
  return std::find(misread_words.begin(), misread_words.end(), lower) == misread_words.end();
}

std::string name_rule() {
  return "a letter, then letters, digits, '_' or '-', at most " + std::to_string(longest_name) +
         ", and no word that YAML readers may take for true, false or null";
}

std::string name_pattern() {
  // Schema patterns have no switch for ignoring case, so each letter of a misread word is written in both.
  std::string barred;
  for (const auto word : misread_words) {
    if (!barred.empty()) barred += '|';
    for (const char c : word) {
      barred += '[';
      barred += static_cast<char>(c - 'a' + 'A');
      barred += c;
      barred += ']';
    }
  }
  return "^(?!(" + barred + ")$)[A-Za-z][A-Za-z0-9_-]{0," + std::to_string(longest_name - 1) + "}$";
}

}  // namespace trammel::brief
