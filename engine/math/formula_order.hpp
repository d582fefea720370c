// What a formula has done, in an order that suits a processor: before anything is said of registers.
#pragma once

#include <optional>
#include <vector>

#include "math/formula_registers.hpp"

namespace trammel::math {

/// The same formula without angles and what only drops derivatives, in operations that a processor has; the digits are
/// those of the number types.
Formula written_out(const Formula& formula);

/// The same for unit vectors that are all turned by less than about 44°, in far fewer operations. One more result, the
/// last, is the least of their cosines: where it is less than `quick_cosine`, the others are worth nothing. Nothing for
/// a formula without such angles.
std::optional<Formula> written_out_quickly(const Formula& formula);

/// An operation of such a formula. A choice reads the two numbers that it compares, then the one to take where the
/// first is not less, then the other.
struct Deed {
  Action::Kind kind = Action::Kind::add;
  int out = 0;
  std::vector<int> in;
  double constant = 0.0;
  int condition = -1;  ///< of a choice: the number of its comparison
};

std::vector<Deed> deeds_of(const Formula& formula);

/// The same deeds in an order in which few wait: of those whose operands are there, the one with the longest way to the
/// end comes first; while registers are short, one that needs no further register. (List scheduling by the critical
/// path: Cooper & Torczon, Engineering a Compiler, 2nd ed. (2012), sec. 12.3; from memory.)
std::vector<Deed> in_good_order(std::vector<Deed> deeds, std::size_t numbers, int registers);

}  // namespace trammel::math
