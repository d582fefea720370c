// How the points of a layout move with the design variables.
#pragma once

#include <vector>

namespace trammel::bike {

/// d(coordinate of a point)/d(variable) for n variables; a row of numbers for each coordinate, filled up with zeros to
/// whole packs.
class Tangents {
 public:
  /// Numbers in the widest pack.
  static constexpr std::size_t fill = 8;

  /// All zero.
  void reset(std::size_t variables, std::size_t points) {
    stride_ = 0;
    resize(variables, points, fill);
  }
  /// Room where variables are put in groups of so many. What was there stays if the room stays.
  void resize(std::size_t variables, std::size_t points, std::size_t group) {
    const auto whole = [](std::size_t n, std::size_t of) { return (n + of - 1) / of * of; };
    const std::size_t stride = whole(whole(variables, group), fill);
    if (variables == variables_ && stride == stride_ && numbers_.size() == 2 * points * stride) return;
    variables_ = variables;
    stride_ = stride;
    numbers_.assign(2 * points * stride_, 0.0);
  }
  std::size_t variables() const { return variables_; }
  std::size_t stride() const { return stride_; }

  /// Of coordinate 0 (x) or 1 (y).
  double& at(std::size_t variable, std::size_t point, std::size_t coordinate) {
    return numbers_[(2 * point + coordinate) * stride_ + variable];
  }
  double at(std::size_t variable, std::size_t point, std::size_t coordinate) const {
    return row(point, coordinate)[variable];
  }
  /// Where the derivatives of a coordinate go with respect to a group of variables from number `first` on; zeros for
  /// what is past the last variable.
  double* group(std::size_t point, std::size_t coordinate, std::size_t first) { return &at(first, point, coordinate); }
  /// A derivative that is not zero.
  struct Entry {
    std::size_t coordinate;  ///< 2 · point + 0 or 1
    std::size_t variable;
    double derivative;
  };
  /// Puts all of them into a list.
  void list(std::vector<Entry>& out) const {
    out.clear();
    for (std::size_t c = 0; c * stride_ < numbers_.size(); ++c)
      for (std::size_t v = 0; v < variables_; ++v)
        if (const double d = numbers_[c * stride_ + v]; d != 0.0) out.push_back({c, v, d});
  }

  const double* row(std::size_t point, std::size_t coordinate) const {
    return &numbers_[(2 * point + coordinate) * stride_];
  }

 private:
  std::size_t variables_ = 0, stride_ = 0;
  std::vector<double> numbers_;
};

}  // namespace trammel::bike
