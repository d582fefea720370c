// A tape laid out in memory: where its numbers stand, and what is done with them step by step.
#pragma once

#include <array>
#include <utility>
#include <vector>

#include "math/tape.hpp"

namespace trammel::tape {

using math::Tape;

/// Where a tape's numbers stand in a list of packs that starts with its inputs.
struct Slots {
  std::size_t end = 0;  ///< past the last
  std::vector<std::pair<int, double>> constants;
  std::vector<int> results;
};

/// A step by the slots that it reads and gives.
struct Step {
  Tape::Kind kind = Tape::Kind::plain;
  int out = 0;
  std::array<int, 4> in{};
  double constant = 0.0;
};

struct Steps {
  Slots slots;
  std::vector<Step> list;
};

Steps steps_of(const Tape& tape);

}  // namespace trammel::tape
