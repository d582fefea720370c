#include "math/formula_registers.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "math/formula_order.hpp"

namespace trammel::math {
namespace {

using Kind = Formula::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

class Allocator {
 public:
  Allocator(const Formula& formula, const Registers& registers, std::size_t first)
      : deeds_(in_good_order(deeds_of(formula), formula.operations().size(), registers.numbers - reserve)),
        uses_(formula.operations().size()),
        used_(uses_.size(), 0),
        wanted_(uses_.size(), none),
        home_(uses_.size(), none),
        where_(uses_.size(), none),
        holds_(at(registers.numbers), none),
        compared_(at(registers.masks), none) {
    out_.slots.end = first;
    for (std::size_t d = 0; d < deeds_.size(); ++d)
      for (const int i : deeds_[d].in) uses_[at(i)].push_back(static_cast<int>(d));
    const std::vector<Formula::Operation>& all = formula.operations();
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (all[i].kind == Kind::input) home_[i] = all[i].a;
      if (all[i].kind != Kind::constant) continue;
      home_[i] = new_slot();
      out_.slots.constants.emplace_back(home_[i], all[i].constant);
    }
    for (int r = 0; r < formula.results(); ++r) {
      const std::size_t i = at(formula.result_at(r));
      const int slot = formula.inputs() + r;
      out_.slots.results.push_back(slot);
      // What stands elsewhere already, or is a result twice, is copied at the end.
      if (home_[i] == none && wanted_[i] == none)
        wanted_[i] = slot;
      else
        copies_.emplace_back(static_cast<int>(i), slot);
    }
  }

  Actions run() {
    for (const Deed& deed : deeds_) perform(deed);
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
  /// The deed that needs a number next.
  int next_use(int i) const { return used_[at(i)] < uses_[at(i)].size() ? uses_[at(i)][used_[at(i)]] : never; }
  int use_after_this(int i) const {
    const std::size_t next = used_[at(i)] + 1;
    return next < uses_[at(i)].size() ? uses_[at(i)][next] : never;
  }

  void perform(const Deed& deed) {
    using A = Action::Kind;
    pinned_.clear();
    Action action{deed.kind, 0, 0, {}, 0, 0, deed.constant};
    if (deed.kind == A::power || deed.kind == A::logarithm) {
      for (std::size_t r = 0; r < holds_.size(); ++r)
        if (holds_[r] != none) vacate(static_cast<int>(r));
      std::fill(compared_.begin(), compared_.end(), none);
      action.b = Place::in_slot(home_[at(deed.in[0])]);
      consume(deed);
      const int wanted = wanted_[at(deed.out)];
      home_[at(deed.out)] = action.slot = wanted != none ? wanted : spill_slot();
      out_.list.push_back(action);
      give_slots_free(deed);
      return;
    }
    if (deed.kind == A::negate || deed.kind == A::root) {
      action.b = operand(deed.in[0]);
    } else if (deed.kind == A::blend) {
      action.mask = mask_of(deed);
      action.a = bring(deed.in[2]);
      action.b = operand(deed.in[3]);
    } else {
      int a = deed.in[0], b = deed.in[1];
      const bool commutes = deed.kind == A::add || deed.kind == A::multiply;
      if (commutes && where_[at(a)] == none && where_[at(b)] != none) std::swap(a, b);
      action.a = bring(a);
      action.b = operand(b);
    }
    consume(deed);
    pinned_.clear();
    action.to = free_register();
    out_.list.push_back(action);
    give_slots_free(deed);
    settle(deed.out, action.to);
    const int wanted = wanted_[at(deed.out)];
    if (wanted == none) return;
    store(action.to, home_[at(deed.out)] = wanted);
    if (next_use(deed.out) == never) leave(deed.out);
  }

  /// The mask of a choice; one that was compared lately still stands.
  int mask_of(const Deed& deed) {
    const auto known = std::find(compared_.begin(), compared_.end(), deed.condition);
    if (known != compared_.end()) return static_cast<int>(known - compared_.begin());
    const std::size_t mask = next_mask_++ % compared_.size();
    Action compare{Action::Kind::compare, static_cast<int>(mask), bring(deed.in[0]), {}, 0, 0, 0.0};
    compare.b = operand(deed.in[1]);
    out_.list.push_back(compare);
    compared_[mask] = deed.condition;
    return static_cast<int>(mask);
  }
  /// A number into a register, for the deed at hand.
  int bring(int i) {
    int r = where_[at(i)];
    if (r == none) {
      r = free_register();
      out_.list.push_back({Action::Kind::load, r, 0, Place::in_slot(home_[at(i)]), 0, 0, 0.0});
      settle(i, r);
    }
    pinned_.push_back(r);
    return r;
  }
  /// A number where it stands, or in a register when that pays later.
  Place operand(int i) {
    if (where_[at(i)] == none) {
      const int later = use_after_this(i);
      const bool room = std::find(holds_.begin(), holds_.end(), none) != holds_.end();
      if (later == never || (!room && later >= next_use(farthest()))) return Place::in_slot(home_[at(i)]);
    }
    return Place::in_register(bring(i));
  }

  void settle(int i, int r) {
    where_[at(i)] = r;
    holds_[at(r)] = i;
  }
  void leave(int i) {
    holds_[at(where_[at(i)])] = none;
    where_[at(i)] = none;
  }
  void store(int r, int slot) { out_.list.push_back({Action::Kind::store, 0, r, {}, slot, 0, 0.0}); }

  /// What the deed reads is read; a number that is not used again gives its register free.
  void consume(const Deed& deed) {
    for (const int i : deed.in) ++used_[at(i)];
    for (const int i : deed.in)
      if (next_use(i) == never && where_[at(i)] != none) leave(i);
  }
  /// And its slot, once the action that may read it there is down.
  void give_slots_free(const Deed& deed) {
    for (const int i : deed.in) {
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

  std::vector<Deed> deeds_;
  std::vector<std::vector<int>> uses_;       ///< of each number, the deeds that need it
  std::vector<std::size_t> used_;            ///< how many of them are done
  std::vector<int> wanted_;                  ///< of each number that is a result, the slot where it shall stand
  std::vector<std::pair<int, int>> copies_;  ///< numbers that stand elsewhere, and slots for results
  std::vector<int> home_, where_;            ///< of each number, its slot and its register
  std::vector<int> holds_;                   ///< of each register, its number
  std::vector<int> compared_;                ///< of each mask, the comparison that it stands for
  std::size_t next_mask_ = 0;
  std::vector<int> pinned_;          ///< registers that the deed at hand reads
  std::vector<int> spilled_, idle_;  ///< slots for waiting numbers, in use and free
  Actions out_;
};

}  // namespace

Actions allocate_registers(const Formula& formula, const Registers& registers, std::size_t first) {
  return Allocator(formula, registers, first).run();
}

}  // namespace trammel::math
