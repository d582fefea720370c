// A tape as machine code, made while the program runs.
//
// One step after another through a list costs a jump, loads and a store for each; the same operations written out keep
// their numbers in registers. The digits are the same: + − × ÷ √ are rounded alike wherever they stand.
#pragma once

#include <memory>

#include "tape/steps.hpp"

namespace trammel::tape {

class MachineCode {
 public:
  /// For packs of `lanes` numbers, as many side by side as the widest registers hold that may be used; the last
  /// `coming` inputs come from elsewhere. Null where this machine runs no such code: a processor of another kind,
  /// narrow registers, a system that forbids it.
  static std::unique_ptr<MachineCode> make(const Tape& tape, int coming, int lanes, int register_lanes);
  virtual ~MachineCode() = default;

  /// Works on a list of packs whose first ones are the inputs; those that come are read from `in`. Results go to `out`.
  void run(double* list, const double* in, double* out) const {
    if (quick_ == nullptr || quick_(list, in, out) != 0) whole_(list, in, out);
  }
  const Slots& slots() const { return slots_; }

 protected:
  /// Works on a list; what `quick_` gives holds where it returns 0.
  using Run = int (*)(double* list, const double* in, double* out);
  Run quick_ = nullptr, whole_ = nullptr;
  Slots slots_;
};

}  // namespace trammel::tape
