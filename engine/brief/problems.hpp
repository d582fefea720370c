// Collects everything that is wrong, and words for saying it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "brief/marked_tree.hpp"
#include "brief/read.hpp"

namespace trammel::brief {

class Problems {
 public:
  void add(Mark mark, std::string where, std::string what);
  /// A problem with a value whose path is known.
  void add(const Node& node, std::string what) { add(node.mark, node.where, std::move(what)); }
  bool empty() const { return found_.empty(); }
  /// All problems by line, then column.
  std::vector<Problem> sorted() const;

 private:
  std::vector<Problem> found_;
};

/// "a, b, c".
std::string join(const std::vector<std::string>& words, std::string_view separator = ", ");

/// The word closest to `word` by edit distance; empty when none is close enough to be what was meant.
std::string nearest(std::string_view word, const std::vector<std::string>& known);

/// "; did you mean 'radius'?", or nothing.
std::string suggestion(std::string_view word, const std::vector<std::string>& known);

}  // namespace trammel::brief
