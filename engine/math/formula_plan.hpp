// How a formula is run for some of its results: only the operations that they need, products taken together with the
// sum that uses them, and the way back through each.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "math/formula.hpp"

namespace trammel::math {

/// A step by the numbers of the operations that it reads and gives.
struct Step {
  Formula::Kind kind = Formula::Kind::plain;
  int out = 0;
  std::array<int, 4> in{};
  double constant = 0.0;
};

/// The way back of a step: what flows to operand i is added to what stands in `before[i]` and put into `to[i]`. Nothing
/// has flowed to an operand before its first way back: `before` is then the plan's `zero`. What flows to no variable
/// goes to `nowhere`.
struct BackStep {
  Step step;
  std::array<int, 4> to{}, before{};
};

struct Plan {
  std::vector<Step> forwards;
  std::vector<BackStep> backwards;  ///< in the order of the run backwards
  std::vector<int> cleared;   ///< to be nothing before results are seeded: the results, inputs that nothing reaches
  int zero = 0, nowhere = 0;  ///< two places after those of the operations
};

/// For the results whose bits are set, result i by bit i; a formula of more than 64 results is run whole.
Plan make_plan(const Formula& formula, std::uint64_t results);

/// The bit of a result.
inline std::uint64_t result_bit(int result) {
  return result < 64 ? std::uint64_t{1} << result : 0;
}

}  // namespace trammel::math
