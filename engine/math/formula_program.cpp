#include "math/formula_program.hpp"

#include <map>
#include <mutex>
#include <utility>

namespace trammel::math {

struct FormulaProgram::Shared {
  std::mutex mutex;
  std::map<std::pair<int, int>, Made> made;
};

FormulaProgram::FormulaProgram(Formula formula, int coming)
    : formula_(std::move(formula)), coming_(coming), shared_(std::make_shared<Shared>()) {}

const FormulaProgram::Made& FormulaProgram::made(int lanes, int register_lanes) const {
  const std::lock_guard lock(shared_->mutex);
  const auto [found, fresh] = shared_->made.try_emplace({lanes, register_lanes});
  Made& made = found->second;
  if (fresh) {
    made.code = FormulaCode::make(formula_, coming_, lanes, register_lanes);
    if (!made.code) made.plan = make_plan(formula_);
  }
  return made;
}

}  // namespace trammel::math
