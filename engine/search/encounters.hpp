// What repeated refinements came upon, and how much is still to be found.
//
// The share of further refinements that would come upon something not yet seen is estimated by the share of those so
// far that came upon something seen only once: Good, "The population frequencies of species and the estimation of
// population parameters", Biometrika 40 (1953) 237–264 (from memory; the rule is Turing's). It says nothing about what
// this way of searching cannot reach.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace trammel::search {

class Encounters {
 public:
  /// A refinement that ended in thing number `which`.
  void add(std::size_t which) {
    ++refinements_;
    if (which >= ends_.size()) ends_.resize(which + 1, 0);
    const std::int64_t ends = ++ends_[which];
    if (ends == 1) {
      ++found_;
      ++once_;
    }
    if (ends == 2) --once_;
  }
  /// Refinements that ended in nothing worth counting.
  void add_fruitless(std::int64_t count) { refinements_ += count; }

  std::int64_t refinements() const { return refinements_; }
  std::int64_t found() const { return found_; }
  /// Things in which exactly one refinement ended.
  std::int64_t once() const { return once_; }
  /// Estimated share of further refinements that would end in something not yet seen, 0 … 1; 1 before the first.
  double unseen() const {
    return refinements_ == 0 ? 1.0 : static_cast<double>(once_) / static_cast<double>(refinements_);
  }

 private:
  std::vector<std::int64_t> ends_;
  std::int64_t refinements_ = 0, found_ = 0, once_ = 0;
};

}  // namespace trammel::search
