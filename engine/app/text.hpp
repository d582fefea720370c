// Text for a terminal of a hundred columns: folded sentences, and tables in plain letters.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace trammel::app {

inline constexpr std::size_t page_width = 100;

/// Columns that UTF-8 text takes, one a code point.
std::size_t width_of(std::string_view text);

/// A sentence with its line break at the end, folded between words where it passes the page: its first line indented by
/// `indent`, those after it by `hang`. A word that is longer than a line stays whole.
std::string folded(std::string_view sentence, std::size_t indent, std::size_t hang);

/// Notes behind a lead such as "notes: ", each of their lines folded and indented, so that none stands for anything
/// else.
std::string folded_notes(const std::string& lead, std::string_view notes, std::size_t indent);

/// Rows of cells in columns two blanks apart. Where a row passes the page its last cell is folded; where that leaves it
/// less than it needs and less than a third of the page, the first cell of every row gets a line of its own.
class TextTable {
 public:
  enum class Align { left, right };

  /// `columns` says how many there are.
  explicit TextTable(std::vector<Align> columns) : columns_(std::move(columns)) {}
  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  bool empty() const { return rows_.empty(); }
  /// Puts every cell in other words.
  void reword(const std::function<std::string(std::string_view)>& words);
  /// With `indent` blanks before every row.
  std::string text(std::size_t indent) const;

 private:
  std::vector<Align> columns_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace trammel::app
