// A tape as what a processor with so many registers does: which number stands in which register when, and which
// ones wait in memory.
//
// A number is computed into a register, and goes to memory only when others need the register sooner; it is the one
// whose next use is farthest that goes: L. A. Belady, "A study of replacement algorithms for a virtual-storage
// computer", IBM Systems Journal 5 (1966) 78–101 (from memory), for straight-line code.
#pragma once

#include <cstdint>
#include <vector>

#include "tape/steps.hpp"

namespace trammel::tape {

/// A register by its number (≥ 0), or a slot of memory.
class Location {
 public:
  Location() = default;
  static Location in_register(int number) { return Location(number); }
  static Location in_slot(int number) { return Location(~number); }
  bool is_register() const { return code_ >= 0; }
  int number() const { return is_register() ? code_ : ~code_; }

 private:
  explicit Location(int code) : code_(code) {}
  int code_ = 0;
};

/// One op. `to` and `a` are registers, but for what is said.
struct MachineOp {
  enum class Kind : std::uint8_t {
    load,       ///< to = b, a slot
    store,      ///< slot `slot` = a
    add,        ///< to = a + b
    subtract,   ///< to = a − b
    multiply,   ///< to = a · b
    divide,     ///< to = a / b
    negate,     ///< to = −b
    root,       ///< to = √b
    greater,    ///< to = a where a > b, else b
    lesser,     ///< to = a where a < b, else b
    compare,    ///< mask `to` = where a < b
    blend,      ///< to = b where `mask` says so, else a
    power,      ///< slot = b, a slot, to the constant; no register keeps its number
    logarithm,  ///< slot = log b, likewise
  };
  Kind kind = Kind::load;
  int to = 0, a = 0;
  Location b;
  int slot = 0;
  int mask = 0;
  double constant = 0.0;
};

struct MachineOps {
  Slots slots;
  std::vector<MachineOp> list;
};

/// What there is to work with.
struct Registers {
  int numbers = 4;  ///< registers for numbers, ≥ 4
  int masks = 1;    ///< and for what comparisons give
};

/// For a tape that is written out (schedule.hpp). Result r goes to slot `inputs + r`; other slots are taken
/// from `first` on, which is past those.
MachineOps allocate_registers(const Tape& tape, const Registers& registers, std::size_t first);

}  // namespace trammel::tape
