// A tape made ready to run, once for all tasks.
#pragma once

#include <memory>
#include <optional>

#include "tape/machine_code.hpp"

namespace trammel::tape {

class CompiledTape {
 public:
  /// `tape` is finished. Its last `coming` inputs may come from elsewhere.
  explicit CompiledTape(Tape tape, int coming = 0);

  const Tape& tape() const { return tape_; }
  int coming() const { return coming_; }

  /// How it runs on packs: as code, or step by step where the machine takes none.
  struct Made {
    std::unique_ptr<MachineCode> code;
    Steps steps;  ///< when there is no code

    const Slots& slots() const { return code ? code->slots() : steps.slots; }
  };
  /// Made when first asked for, by whichever task; for packs of `lanes` in registers of `register_lanes`,
  /// 0 for step by step. Lives as long
  /// as this program or a copy of it.
  const Made& made(int lanes, int register_lanes) const;

 private:
  struct Shared;
  Tape tape_;
  int coming_;
  std::shared_ptr<Shared> shared_;
};

}  // namespace trammel::tape
