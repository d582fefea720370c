// A formula laid out in memory: where its numbers stand, and what is done with them step by step.
#pragma once

#include <array>
#include <utility>
#include <vector>

#include "math/formula.hpp"

namespace trammel::math {

/// Where a formula's numbers stand in a list of packs that starts with its inputs.
struct Slots {
  std::size_t end = 0;  ///< past the last
  std::vector<std::pair<int, double>> constants;
  std::vector<int> results;
};

/// A step by the slots that it reads and gives.
struct Step {
  Formula::Kind kind = Formula::Kind::plain;
  int out = 0;
  std::array<int, 4> in{};
  double constant = 0.0;
};

struct Plan {
  Slots slots;
  std::vector<Step> steps;
};

Plan make_plan(const Formula& formula);

}  // namespace trammel::math
