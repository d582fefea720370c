// The derivatives of a tape as a tape.
//
// Reverse-mode automatic differentiation: what flows from the results back to each operation is noted down like any
// other number. Source: Griewank & Walther, Evaluating Derivatives, 2nd ed. (SIAM, 2008), sec. 3.2 (from memory).
#pragma once

#include "math/tape.hpp"

namespace trammel::tape {

using math::Tape;

/// Inputs: those of `tape`, then one for each of its results: its weight. Results: for each input of `tape`
/// Σ weight · ∂result/∂input over all results; 0 for an input that does not move. Where a root is of nothing its slope
/// is taken as 0.
Tape adjoint(const Tape& tape);

}  // namespace trammel::tape
