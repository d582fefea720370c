// Where a brief's text writes the limits of its demands, and how they give way.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "brief/edit.hpp"
#include "objectives/packaging.hpp"
#include "search/demand.hpp"

namespace trammel::search {

/// A number of the brief's text that limits a demand, in the unit in which the brief gives it.
struct Limit {
  std::string path = {};  ///< where it stands, or would if it were not left out: "targets[2].band[0]"
  double value = 0.0;     ///< as it stands, or by default
  int way = 1;            ///< it gives way by rising (1) or by falling (−1)
  std::string unit = {};  ///< "teeth" where teeth were given
  double scale = 1.0;     ///< what one of that unit is in the unit of the verdict
  bool whole = false;     ///< it has no fractions
  bool around = false;    ///< it is a distance to both sides: the tolerance of a value or path
  double other = 0.0;     ///< where the path ends in a number: the other end of the interval
  /// Of what holds by default, what the brief may give; further out it can only be dropped.
  std::optional<objectives::Interval> allowed = {};
  int decimals = 1;  ///< places that show a tenth of a small amount
  /// A target that another layout tells: the value is what is added to what that layout has.
  std::optional<objectives::Target> told = {};

  /// The smallest amount that is told apart.
  double unit_amount() const;
  /// The least amount to give, a number with so many decimals, that makes up for a miss.
  double amount_for(double miss) const;
  /// The value once it has given an amount.
  double given(double amount) const;
};

/// The change that makes a limit give an amount, in a text that this is the tree of; with an infinite amount it is
/// dropped, as what holds by default can be.
brief::Change change_for(const Limit& limit, double amount, const brief::Node& text);

/// Where the text of a brief writes the limits of one of its demands, one or two. `own` is the brief's linkage, and
/// `text` its whole text as a tree. Empty where the text does not say.
std::vector<Limit> limits_of(const Demand& demand, const brief::Brief& own, const brief::Node& text);

}  // namespace trammel::search
