#include "tape/register_allocation.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "tape/schedule.hpp"

namespace trammel::tape {
namespace {

using Kind = Tape::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class Allocator {
 public:
  Allocator(const Tape& tape, const Registers& registers, std::size_t first)
      : instructions_(scheduled(instructions_of(tape), tape.operations().size(), registers.numbers - reserve)),
        uses_(tape.operations().size()),
        used_(uses_.size(), 0),
        wanted_(uses_.size(), none),
        home_(uses_.size(), none),
        where_(uses_.size(), none),
        holds_(at(registers.numbers), none),
        compared_(at(registers.masks), none) {
    out_.slots.end = first;
    for (std::size_t d = 0; d < instructions_.size(); ++d)
      for (const int i : instructions_[d].in) uses_[at(i)].push_back(static_cast<int>(d));
    const std::vector<Tape::Operation>& all = tape.operations();
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (all[i].kind == Kind::input) home_[i] = all[i].a;
      if (all[i].kind != Kind::constant) continue;
      home_[i] = new_slot();
      out_.slots.constants.emplace_back(home_[i], all[i].constant);
    }
    for (int r = 0; r < tape.results(); ++r) {
      const std::size_t i = at(tape.result_at(r));
      const int slot = tape.inputs() + r;
      out_.slots.results.push_back(slot);
      // What stands elsewhere already, or is a result twice, is copied at the end.
      if (home_[i] == none && wanted_[i] == none)
        wanted_[i] = slot;
      else
        copies_.emplace_back(static_cast<int>(i), slot);
    }
  }

  MachineOps run() {
    for (const Instruction& instruction : instructions_) perform(instruction);
    pinned_.clear();
    for (const auto& [i, slot] : copies_) {
      const int r = bring(i);
      store(r, slot);
      leave(i);
      pinned_.clear();
    }
    return std::move(out_);
  }

 private:
  static constexpr int none = -1;
  /// Registers that are left to what is loaded from memory.
  static constexpr int reserve = 4;
  static constexpr int never = std::numeric_limits<int>::max();

  int new_slot() { return static_cast<int>(out_.slots.end++); }
  /// The instruction that needs a number next.
  int next_use(int i) const { return used_[at(i)] < uses_[at(i)].size() ? uses_[at(i)][used_[at(i)]] : never; }
  int use_after_this(int i) const {
    const std::size_t next = used_[at(i)] + 1;
    return next < uses_[at(i)].size() ? uses_[at(i)][next] : never;
  }

  void perform(const Instruction& instruction) {
    using A = MachineOp::Kind;
    pinned_.clear();
    MachineOp op{instruction.kind, 0, 0, {}, 0, 0, instruction.constant};
    if (instruction.kind == A::power || instruction.kind == A::logarithm) {
      for (std::size_t r = 0; r < holds_.size(); ++r)
        if (holds_[r] != none) vacate(static_cast<int>(r));
      std::fill(compared_.begin(), compared_.end(), none);
      op.b = Location::in_slot(home_[at(instruction.in[0])]);
      consume(instruction);
      const int wanted = wanted_[at(instruction.out)];
      home_[at(instruction.out)] = op.slot = wanted != none ? wanted : spill_slot();
      out_.list.push_back(op);
      give_slots_free(instruction);
      return;
    }
    if (instruction.kind == A::negate || instruction.kind == A::root) {
      op.b = operand(instruction.in[0]);
    } else if (instruction.kind == A::blend) {
      op.mask = mask_of(instruction);
      op.a = bring(instruction.in[2]);
      op.b = operand(instruction.in[3]);
    } else {
      int a = instruction.in[0], b = instruction.in[1];
      const bool commutes = instruction.kind == A::add || instruction.kind == A::multiply;
      if (commutes && where_[at(a)] == none && where_[at(b)] != none) std::swap(a, b);
      op.a = bring(a);
      op.b = operand(b);
    }
    consume(instruction);
    pinned_.clear();
    op.to = free_register();
    out_.list.push_back(op);
    give_slots_free(instruction);
    settle(instruction.out, op.to);
    const int wanted = wanted_[at(instruction.out)];
    if (wanted == none) return;
    store(op.to, home_[at(instruction.out)] = wanted);
    if (next_use(instruction.out) == never) leave(instruction.out);
  }

  /// The mask of a choice; one that was compared lately still stands.
  int mask_of(const Instruction& instruction) {
    const auto known = std::find(compared_.begin(), compared_.end(), instruction.condition);
    if (known != compared_.end()) return static_cast<int>(known - compared_.begin());
    const std::size_t mask = next_mask_++ % compared_.size();
    MachineOp compare{MachineOp::Kind::compare, static_cast<int>(mask), bring(instruction.in[0]), {}, 0, 0, 0.0};
    compare.b = operand(instruction.in[1]);
    out_.list.push_back(compare);
    compared_[mask] = instruction.condition;
    return static_cast<int>(mask);
  }
  /// A number into a register, for the instruction at hand.
  int bring(int i) {
    int r = where_[at(i)];
    if (r == none) {
      r = free_register();
      out_.list.push_back({MachineOp::Kind::load, r, 0, Location::in_slot(home_[at(i)]), 0, 0, 0.0});
      settle(i, r);
    }
    pinned_.push_back(r);
    return r;
  }
  /// A number where it stands, or in a register when that pays later.
  Location operand(int i) {
    if (where_[at(i)] == none) {
      const int later = use_after_this(i);
      const bool room = std::find(holds_.begin(), holds_.end(), none) != holds_.end();
      if (later == never || (!room && later >= next_use(farthest()))) return Location::in_slot(home_[at(i)]);
    }
    return Location::in_register(bring(i));
  }

  void settle(int i, int r) {
    where_[at(i)] = r;
    holds_[at(r)] = i;
  }
  void leave(int i) {
    holds_[at(where_[at(i)])] = none;
    where_[at(i)] = none;
  }
  void store(int r, int slot) { out_.list.push_back({MachineOp::Kind::store, 0, r, {}, slot, 0, 0.0}); }

  /// What the instruction reads is read; a number that is not used again gives its register free.
  void consume(const Instruction& instruction) {
    for (const int i : instruction.in) ++used_[at(i)];
    for (const int i : instruction.in)
      if (next_use(i) == never && where_[at(i)] != none) leave(i);
  }
  /// And its slot, once the op that may read it there is down.
  void give_slots_free(const Instruction& instruction) {
    for (const int i : instruction.in) {
      const auto spilled = std::find(spilled_.begin(), spilled_.end(), home_[at(i)]);
      if (next_use(i) != never || spilled == spilled_.end()) continue;
      idle_.push_back(*spilled);
      spilled_.erase(spilled);
    }
  }

  int free_register() {
    auto r = std::find(holds_.begin(), holds_.end(), none);
    if (r == holds_.end()) {
      r = holds_.begin() + where_[at(farthest())];
      vacate(static_cast<int>(r - holds_.begin()));
    }
    return static_cast<int>(r - holds_.begin());
  }
  /// The number in a register whose next use is farthest.
  int farthest() const {
    int found = none;
    for (std::size_t r = 0; r < holds_.size(); ++r) {
      const bool pinned = std::find(pinned_.begin(), pinned_.end(), static_cast<int>(r)) != pinned_.end();
      if (!pinned && (found == none || next_use(holds_[r]) > next_use(found))) found = holds_[r];
    }
    return found;
  }
  void vacate(int r) {
    const int i = holds_[at(r)];
    if (home_[at(i)] == none) store(r, home_[at(i)] = spill_slot());
    leave(i);
  }
  int spill_slot() {
    int slot = 0;
    if (idle_.empty()) {
      slot = new_slot();
    } else {
      slot = idle_.back();
      idle_.pop_back();
    }
    spilled_.push_back(slot);
    return slot;
  }

  std::vector<Instruction> instructions_;
  std::vector<std::vector<int>> uses_;       ///< of each number, the instructions that need it
  std::vector<std::size_t> used_;            ///< how many of them are done
  std::vector<int> wanted_;                  ///< of each number that is a result, the slot where it shall stand
  std::vector<std::pair<int, int>> copies_;  ///< numbers that stand elsewhere, and slots for results
  std::vector<int> home_, where_;            ///< of each number, its slot and its register
  std::vector<int> holds_;                   ///< of each register, its number
  std::vector<int> compared_;                ///< of each mask, the comparison that it stands for
  std::size_t next_mask_ = 0;
  std::vector<int> pinned_;          ///< registers that the instruction at hand reads
  std::vector<int> spilled_, idle_;  ///< slots for waiting numbers, in use and free
  MachineOps out_;
};

}  // namespace

MachineOps allocate_registers(const Tape& tape, const Registers& registers, std::size_t first) {
  return Allocator(tape, registers, first).run();
}

}  // namespace trammel::tape
