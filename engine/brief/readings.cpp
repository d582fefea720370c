#include "brief/readings.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "brief/scalar.hpp"
#include "brief/side_file.hpp"
#include "brief/yaml_loader.hpp"

namespace trammel::brief {
namespace {

/// The cells of a line, without spaces and quotes around them.
std::vector<std::string_view> cells_of(std::string_view line) {
  std::vector<std::string_view> cells;
  for (std::size_t at = 0; at <= line.size();) {
    const std::size_t end = std::min(line.find(',', at), line.size());
    std::string_view cell = line.substr(at, end - at);
    while (!cell.empty() && (cell.front() == ' ' || cell.front() == '"')) cell.remove_prefix(1);
    while (!cell.empty() && (cell.back() == ' ' || cell.back() == '"')) cell.remove_suffix(1);
    cells.push_back(cell);
    at = end + 1;
  }
  return cells;
}

std::optional<double> number_of(std::string_view text) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  return whole && std::isfinite(value) && std::abs(value) <= 1e6 ? std::optional(value) : std::nullopt;
}

/// Which two columns of a file hold the numbers.
struct Columns {
  std::size_t first = 0, second = 1;
  bool named = false;

  /// Two numbers of a line; nothing when it has something else.
  std::optional<std::pair<double, double>> reading(const std::vector<std::string_view>& cells) const {
    if (named ? cells.size() <= std::max(first, second) : cells.size() != 2) return std::nullopt;
    const auto x = number_of(cells[first]), y = number_of(cells[second]);
    return x && y ? std::optional(std::pair(*x, *y)) : std::nullopt;
  }
};

Columns columns_of(const std::vector<std::string_view>& header, const ReadingsAsked& asked) {
  const auto place = [&](const std::vector<std::string>& names) {
    return static_cast<std::size_t>(std::find_first_of(header.begin(), header.end(), names.begin(), names.end()) -
                                    header.begin());
  };
  const std::size_t x = place(asked.first), y = place(asked.second);
  return x < header.size() && y < header.size() ? Columns{x, y, true} : Columns{};
}

/// Whether `changed` is sound and has at `find` what it should.
template <class Sound>
bool reads_back(const std::string& changed, const std::function<const Node*(const Node& root)>& find, Sound is_sound) {
  Problems none;
  const auto root = load_yaml(changed, none);
  const Node* there = root && none.empty() ? find(*root) : nullptr;
  return there != nullptr && is_sound(*there);
}

/// False when the text is written in a way that this does not find.
bool replaced(const Node& file, const std::string& key, const std::string& list, const Readings& readings,
              const std::function<const Node*(const Node& root)>& find, std::string& text) {
  std::size_t line = 0;
  for (int i = 1; i < file.mark.line && line != text.npos; ++i) line = text.find('\n', line) + 1;
  const std::size_t value = text.find(file.text, line);
  if (value == text.npos) return false;
  const std::size_t start = text.rfind(key, value);
  if (start == text.npos) return false;
  std::size_t end = value + file.text.size();
  if (!file.plain && end < text.size()) ++end;
  std::string changed = text.substr(0, start) + list + ": " + list_text(readings) + text.substr(end);
  if (!reads_back(changed, find, [&](const Node& there) { return there.items.size() == readings.size(); }))
    return false;
  text = std::move(changed);
  return true;
}

}  // namespace

std::string list_text(const Readings& readings) {
  std::string text = "[";
  for (const auto& [x, y] : readings)
    text += (text.back() == '[' ? "[" : ", [") + exact_text(x) + ", " + exact_text(y) + "]";
  return text + "]";
}

std::optional<Readings> read_csv(const Node& file, const Brief& brief, const ReadingsAsked& asked, Problems& problems) {
  auto text = side_file(file, brief, "a CSV file", problems);
  if (!text) return std::nullopt;
  if (text->starts_with("\xEF\xBB\xBF")) text->erase(0, 3);
  Readings readings;
  Columns columns;
  int number = 0;
  for (std::size_t at = 0; at < text->size();) {
    const std::size_t end = std::min(text->find('\n', at), text->size());
    std::string_view line(text->data() + at, end - at);
    at = end + 1;
    ++number;
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.empty()) continue;
    const auto cells = cells_of(line);
    if (const auto reading = columns.reading(cells)) {
      readings.push_back(*reading);
    } else if (number == 1) {
      columns = columns_of(cells, asked);
    } else {
      problems.add(file, "line " + std::to_string(number) + " of " + describe(file) + " is '" + printable(line) +
                             "'; it must hold two numbers, " + asked.what +
                             ", with a comma between them and decimal points");
      return std::nullopt;
    }
  }
  return readings;
}

void put_into_text(const Node& file, const std::string& key, const std::string& list, const Readings& readings,
                   const std::function<const Node*(const Node& root)>& find, std::string& text, Problems& problems) {
  if (text.empty())
    problems.add(file, "with linkages a file's readings cannot be kept with a study; write them under " + list);
  else if (!replaced(file, key, list, readings, find, text))
    problems.add(file,
                 "the file's name must stand plainly after its key, so that its readings can be kept with a study");
}

void add_to_text(const Node& map, const std::string& beside, const std::string& key, const std::string& value,
                 const std::function<const Node*(const Node& root)>& find, std::string& text, Problems& problems) {
  const Node& old = *map.find(beside);
  std::size_t line = 0;
  for (int i = 1; i < old.mark.line && line != text.npos; ++i) line = text.find('\n', line) + 1;
  std::size_t end = text.find(old.text, line + static_cast<std::size_t>(old.mark.column) - 1);
  if (end != text.npos) {
    end += old.text.size();
    if (!old.plain && end < text.size()) ++end;
    // A group in braces, or one key a line.
    const std::size_t indent = static_cast<std::size_t>(map.keys.front().mark.column) - 1;
    for (const std::string& before : {std::string(", "), "\n" + std::string(indent, ' ')}) {
      std::string entry = before + key;
      entry.append(": ").append(value);
      std::string changed = text;
      changed.insert(end, entry);
      if (!reads_back(changed, find, [&](const Node& there) {
            return there.find(key) != nullptr && there.items.size() == map.items.size() + 1 &&
                   there.find(beside)->text == old.text;
          }))
        continue;
      text = std::move(changed);
      return;
    }
  }
  problems.add(old, "must stand plainly after its key, so that what was found can be kept with a study");
}

}  // namespace trammel::brief
