#include "tape/compiled_tape.hpp"

#include <map>
#include <mutex>
#include <utility>

namespace trammel::tape {

struct CompiledTape::Shared {
  std::mutex mutex;
  std::map<std::pair<int, int>, Made> made;
};

CompiledTape::CompiledTape(Tape tape, int coming)
    : tape_(std::move(tape)), coming_(coming), shared_(std::make_shared<Shared>()) {}

const CompiledTape::Made& CompiledTape::made(int lanes, int register_lanes) const {
  const std::lock_guard lock(shared_->mutex);
  const std::pair key(lanes, register_lanes);
  if (const auto found = shared_->made.find(key); found != shared_->made.end()) return found->second;
  Made made;
  made.code = MachineCode::make(tape_, coming_, lanes, register_lanes);
  if (!made.code) made.steps = steps_of(tape_);
  return shared_->made.emplace(key, std::move(made)).first->second;
}

}  // namespace trammel::tape
