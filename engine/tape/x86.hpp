// Machine operations as instructions of x86-64: the only place that knows its instructions, and with machine_code.cpp
// the only one that knows AsmJit.
//
// Registers of 8 numbers (AVX-512) and of 4 (AVX2) have instructions with two operands and a result of its own; in
// those of 2 (SSE2, which every such processor has) the first operand is overwritten, so that it is copied before.
#pragma once

#include <asmjit/x86.h>

#include <optional>

#include "tape/register_allocation.hpp"

namespace trammel::tape {

/// What registers of so many numbers offer.
Registers x86_registers(int register_lanes);

/// Where the slots of a tape are: `coming` ones from `first_in` on in one array, `results` ones that follow in another,
/// all others in the list.
struct Arrays {
  int first_in = 0, coming = 0, results = 0;
};

/// What the code returns: in how many rounds a number of slot `judged` is less than that of slot `least`.
struct Judgement {
  int judged = 0, least = 0;
};

/// Writes a function int(double* list, const double* in, double* out) for packs of `lanes` numbers, which starts at a
/// multiple of the registers' size. A pack that fills several registers is worked on in as many rounds. Slot
/// `sign_slot` holds −0. Without a judgement the function returns 0.
void write_x86(const MachineOps& ops, const Arrays& arrays, int lanes, int register_lanes, int sign_slot,
               const std::optional<Judgement>& judgement, asmjit::CodeHolder& to);

}  // namespace trammel::tape
