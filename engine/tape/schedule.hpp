// What a tape has done, in an order that suits a processor: before anything is said of registers.
#pragma once

#include <optional>
#include <vector>

#include "tape/register_allocation.hpp"

namespace trammel::tape {

/// The same tape without angles and what only drops derivatives, in operations that a processor has; the digits are
/// those of the number types.
Tape lowered(const Tape& tape);

/// The same for unit vectors that are all turned by less than about 44°, in far fewer operations. One more result, the
/// last, is the least of their cosines: where it is less than `math::quick_cosine`, the others are worth nothing.
/// Nothing for a tape without such angles.
std::optional<Tape> lowered_for_small_angles(const Tape& tape);

/// An operation of such a tape. A choice reads the two numbers that it compares, then the one to take where the
/// first is not less, then the other.
struct Instruction {
  MachineOp::Kind kind = MachineOp::Kind::add;
  int out = 0;
  std::vector<int> in;
  double constant = 0.0;
  int condition = -1;  ///< of a choice: the number of its comparison
};

std::vector<Instruction> instructions_of(const Tape& tape);

/// The same instructions in an order in which few wait: of those whose operands are there, the one with the longest way
/// to the end comes first; while registers are short, one that needs no further register. (List scheduling by the
/// critical path: Cooper & Torczon, Engineering a Compiler, 2nd ed. (2012), sec. 12.3; from memory.)
std::vector<Instruction> scheduled(std::vector<Instruction> instructions, std::size_t numbers, int registers);

}  // namespace trammel::tape
