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
  if (what.find_first_of("0123456789") != what.npos) what += note_;
  found_.push_back({mark, std::move(where), std::move(what)});
}

int Problems::add_file(std::string name) {
  files_.push_back(std::move(name));
  return static_cast<int>(files_.size());
}

Problems Problems::emptied() const {
  Problems out;
  out.files_ = files_;
  out.note_ = note_;
  return out;
}

void Problems::merge(const Problems& others) {
  const auto key = [](const Found& f) { return std::tie(f.mark.file, f.mark.line, f.mark.column, f.where, f.what); };
  for (const Found& other : others.found_)
    if (std::none_of(found_.begin(), found_.end(), [&](const Found& known) { return key(known) == key(other); }))
      found_.push_back(other);
}

std::vector<Problem> Problems::sorted() const {
  auto sorted = found_;
  std::stable_sort(sorted.begin(), sorted.end(), [](const Found& a, const Found& b) {
    return std::tie(a.mark.file, a.mark.line, a.mark.column) < std::tie(b.mark.file, b.mark.line, b.mark.column);
  });
  std::vector<Problem> out;
  out.reserve(sorted.size());
  for (Found& f : sorted)
    out.push_back({f.mark.line, f.mark.column, std::move(f.where), std::move(f.what),
                   f.mark.file == 0 ? "" : files_[static_cast<std::size_t>(f.mark.file - 1)]});
  return out;
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
