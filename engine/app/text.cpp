#include "app/text.hpp"

#include <algorithm>

namespace trammel::app {
namespace {

/// Blanks between two columns.
constexpr std::size_t gap = 2;

std::string blanks(std::size_t n) {
  return std::string(n, ' ');
}

std::string put_in(const std::string& cell, std::size_t width, TextTable::Align align) {
  const std::string fill = blanks(width - std::min(width, width_of(cell)));
  return align == TextTable::Align::right ? fill + cell : cell + fill;
}

void trim_end(std::string& line) {
  line.erase(line.find_last_not_of(' ') + 1);
}

}  // namespace

std::size_t width_of(std::string_view text) {
  const auto begins = [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; };
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins));
}

std::string folded(std::string_view sentence, std::size_t indent, std::size_t hang) {
  std::string out, line = blanks(indent);
  bool begun = false;
  while (!sentence.empty()) {
    const std::size_t end = std::min(sentence.find(' '), sentence.size());
    const std::string_view word = sentence.substr(0, end);
    sentence.remove_prefix(std::min(end + 1, sentence.size()));
    if (begun && width_of(line) + 1 + width_of(word) > page_width) {
      out += line + "\n";
      line = blanks(hang);
      begun = false;
    }
    line.append(begun ? " " : "").append(word);
    begun = true;
  }
  trim_end(line);
  return out + line + "\n";
}

std::string folded_notes(const std::string& lead, std::string_view notes, std::size_t indent) {
  std::string out;
  for (bool first = true; !notes.empty(); first = false) {
    const std::size_t end = std::min(notes.find('\n'), notes.size());
    const std::string line(notes.substr(0, end));
    out += first ? folded(lead + line, indent, indent + 2) : folded(line, indent + 2, indent + 2);
    notes.remove_prefix(std::min(end + 1, notes.size()));
  }
  return out;
}

void TextTable::reword(const std::function<std::string(std::string_view)>& words) {
  for (auto& row : rows_)
    for (std::string& cell : row) cell = words(cell);
}

std::string TextTable::text(std::size_t indent) const {
  const std::size_t n = columns_.size();
  std::vector<std::size_t> widths(n, 0);
  for (const auto& row : rows_)
    for (std::size_t c = 0; c < n; ++c) widths[c] = std::max(widths[c], width_of(row[c]));
  const auto before_last = [&](std::size_t first) {
    std::size_t sum = indent;
    for (std::size_t c = first; c + 1 < n; ++c) sum += widths[c] + gap;
    return sum;
  };
  const std::size_t needs = std::min(widths.back(), page_width / 3);
  const bool own_line = n > 2 && before_last(0) + needs > page_width;
  const std::size_t hang = own_line ? before_last(1) + gap : before_last(0);
  std::string out;
  for (const auto& row : rows_) {
    std::string line = blanks(indent);
    if (own_line) {
      out += folded(row[0], indent, indent + 2 * gap);
      line += blanks(gap);
    }
    for (std::size_t c = own_line ? 1 : 0; c + 1 < n; ++c) line += put_in(row[c], widths[c], columns_[c]) + blanks(gap);
    if (columns_.back() == Align::right) {
      line += put_in(row.back(), widths.back(), Align::right);
      trim_end(line);
      out += line + "\n";
      continue;
    }
    // The last cell folds under itself.
    std::string last = folded(row.back(), hang, hang);
    out += line + last.substr(std::min(hang, last.size()));
    if (row.back().empty()) {
      out.pop_back();
      trim_end(out);
      out += "\n";
    }
  }
  return out;
}

}  // namespace trammel::app
