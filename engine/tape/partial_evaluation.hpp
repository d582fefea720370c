// Work that can be done ahead: of a tape that goes on from the numbers of another, the part that follows from those
// alone is done once, however often the rest is run.
#pragma once

#include <vector>

#include "math/tape.hpp"

namespace trammel::tape {

using math::Tape;

/// What is left of a tape. Some of its inputs are results of the one before it, `takes` says which; the others keep
/// their order.
struct Residual {
  Tape tape;
  std::vector<int> takes;
};

/// Which of the rest's inputs the results are that it takes.
enum class KnownInputs {
  first,
  last,  ///< and they are the further results, one after the other, so that they can be read where they were put
};

/// `whole` is finished; its first inputs are given by the operations `known` of `before`, one each. What follows from
/// these alone is added to `before`, which is not finished, with what the rest needs of it as further results. Digits
/// stay as they are. The rest is for running, not for derivatives.
Residual partially_evaluate(const Tape& whole, const std::vector<int>& known, Tape& before,
                            KnownInputs order = KnownInputs::first);

}  // namespace trammel::tape
