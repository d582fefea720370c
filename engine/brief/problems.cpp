#include "brief/problems.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace trammel::brief {
namespace {

/// Least number of inserted, deleted or replaced characters between two words, with one row of the usual table.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i + 1;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({replaced, row[j] + 1, row[j + 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

void Problems::add(Mark mark, std::string where, std::string what) {
  found_.push_back({mark.line, mark.column, std::move(where), std::move(what)});
}

std::vector<Problem> Problems::sorted() const {
  auto sorted = found_;
  std::stable_sort(sorted.begin(), sorted.end(), [](const Problem& a, const Problem& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  return sorted;
}

std::string join(const std::vector<std::string>& words, std::string_view separator) {
  std::string out;
  for (const auto& word : words) {
    if (!out.empty()) out += separator;
    out += word;
  }
  return out;
}

std::string nearest(std::string_view word, const std::vector<std::string>& known) {
  constexpr std::size_t longest = 64;  // a longer word is no slip of the keyboard
  if (word.size() > longest) return {};
  std::string best;
  std::size_t least = std::max<std::size_t>(2, word.size() / 2);
  for (const auto& candidate : known) {
    const std::size_t distance = edit_distance(word, candidate);
    if (distance < least || (distance == least && best.empty() && distance < candidate.size())) {
      least = distance;
      best = candidate;
    }
  }
  return best;
}

std::string suggestion(std::string_view word, const std::vector<std::string>& known) {
  const std::string best = nearest(word, known);
  return best.empty() ? "" : "; did you mean '" + best + "'?";
}

}  // namespace trammel::brief
