// A formula made ready to run, once for all tasks.
#pragma once

#include <memory>
#include <optional>

#include "math/formula_code.hpp"

namespace trammel::math {

class FormulaProgram {
 public:
  /// `formula` is finished. Its last `coming` inputs may come from elsewhere.
  explicit FormulaProgram(Formula formula, int coming = 0);

  const Formula& formula() const { return formula_; }
  int coming() const { return coming_; }

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
  int coming_;
  std::shared_ptr<Shared> shared_;
};

}  // namespace trammel::math
