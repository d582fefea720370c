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
  /// Ends every message with a number in it that is added from now on, such as with the unit that it is in.
  void end_numbers_with(std::string note) { note_ = std::move(note); }
  /// Makes another file known that marks may point into; returns its number.
  int add_file(std::string name);
  /// Problems with the same files as this, as yet without any.
  Problems emptied() const;
  /// Takes over what others found that is not known yet.
  void merge(const Problems& others);
  /// All problems by line, then column; those of the brief before those of other files.
  std::vector<Problem> sorted() const;

 private:
  struct Found {
    Mark mark;
    std::string where;
    std::string what;
  };
  std::vector<Found> found_;
  std::vector<std::string> files_;
  std::string note_;
};

/// "a, b, c".
std::string join(const std::vector<std::string>& words, std::string_view separator = ", ");

/// The word closest to `word` by edit distance; empty when none is close enough to be what was meant.
std::string nearest(std::string_view word, const std::vector<std::string>& known);

/// "; did you mean 'radius'?", or nothing.
std::string suggestion(std::string_view word, const std::vector<std::string>& known);

}  // namespace trammel::brief
