// A formula made ready to run, once for all tasks.
#pragma once

#include <memory>
#include <optional>

#include "math/formula_code.hpp"

namespace trammel::math {

class FormulaProgram {
 public:
  /// `formula` is finished.
  explicit FormulaProgram(Formula formula);

  const Formula& formula() const { return formula_; }

  /// How it runs on packs: as code, or step by step where the machine takes none.
  struct Made {
    std::unique_ptr<FormulaCode> code;
    Plan plan;  ///< when there is no code

    const Slots& slots() const { return code ? code->slots() : plan.slots; }
  };
  /// Made when first asked for, by whichever task; for packs of `lanes` in registers of `register_lanes`. Lives as long
  /// as this program or a copy of it.
  const Made& made(int lanes, int register_lanes) const;

 private:
  struct Shared;
  Formula formula_;
  std::shared_ptr<Shared> shared_;
};

}  // namespace trammel::math
