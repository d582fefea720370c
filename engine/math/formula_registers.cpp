#include "math/formula_registers.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "math/trigonometry.hpp"

namespace trammel::math {
namespace {

using Kind = Formula::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// The same formula without angles and what only drops derivatives: the digits are those of the number types.
Formula written_out(const Formula& formula) {
  Formula out;
  std::vector<Symbol> now;
  for (const Formula::Operation& o : formula.operations()) {
    const auto number = [&](int i) -> const Symbol& { return now[at(i)]; };
    const auto entry = [&](int i, int operand) {
      return Formula::operands(o.kind) > operand ? number(i).entry(out) : 0;
    };
    switch (o.kind) {
      case Kind::input:
        now.push_back(out.input(false));
        break;
      case Kind::constant:
        now.emplace_back(o.constant);
        break;
      case Kind::plain:
        now.push_back(number(o.a));
        break;
      case Kind::angle:
        now.push_back(angle_of(number(o.a), number(o.b)));
        break;
      case Kind::unit_angle:
        now.push_back(angle_of_unit(number(o.a), number(o.b)));
        break;
      default:
        now.emplace_back(&out, out.note(o.kind, entry(o.a, 0), entry(o.b, 1), entry(o.c, 2), o.constant));
    }
  }
  for (int r = 0; r < formula.results(); ++r) out.result(now[at(formula.result_at(r))]);
  out.finish();
  return out;
}

/// An operation on numbers, before anything is said of registers. A choice knows what it compares.
struct Deed {
  Action::Kind kind = Action::Kind::add;
  int out = 0;
  std::vector<int> in;
  double constant = 0.0;
};

std::vector<Deed> deeds_of(const Formula& formula) {
  const std::vector<Formula::Operation>& all = formula.operations();
  std::vector<Deed> deeds;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Formula::Operation& o = all[i];
    const auto deed = [&](Action::Kind kind, std::vector<int> in) {
      deeds.push_back({kind, static_cast<int>(i), std::move(in), o.constant});
    };
    switch (o.kind) {
      case Kind::add:
        deed(Action::Kind::add, {o.a, o.b});
        break;
      case Kind::subtract:
        deed(Action::Kind::subtract, {o.a, o.b});
        break;
      case Kind::multiply:
        deed(Action::Kind::multiply, {o.a, o.b});
        break;
      case Kind::divide:
        deed(Action::Kind::divide, {o.a, o.b});
        break;
      case Kind::negate:
        deed(Action::Kind::negate, {o.a});
        break;
      case Kind::root:
        deed(Action::Kind::root, {o.a});
        break;
      case Kind::power:
        deed(Action::Kind::power, {o.a});
        break;
      case Kind::logarithm:
        deed(Action::Kind::logarithm, {o.a});
        break;
      case Kind::choose: {
        const Formula::Operation& less = all[at(o.a)];
        if (less.kind != Kind::less) throw std::logic_error("a choice without a comparison");
        if (o.b == less.b && o.c == less.a)
          deed(Action::Kind::greater, {less.b, less.a});
        else if (o.b == less.a && o.c == less.b)
          deed(Action::Kind::lesser, {less.a, less.b});
        else
          deed(Action::Kind::blend, {less.a, less.b, o.c, o.b});
        break;
      }
      case Kind::input:
      case Kind::constant:
      case Kind::less:
        break;
      default:
        throw std::logic_error("not an operation of a formula that is written out");
    }
  }
  return deeds;
}

/// Cycles until a deed's number is there, roughly, on processors of the last years.
int latency(Action::Kind kind) {
  switch (kind) {
    case Action::Kind::divide:
      return 14;
    case Action::Kind::root:
      return 20;
    case Action::Kind::blend:
      return 6;
    case Action::Kind::greater:
    case Action::Kind::lesser:
    case Action::Kind::negate:
      return 2;
    default:
      return 4;
  }
}

/// The same deeds in an order in which few wait: of those whose operands are there, the one with the longest way to the
/// end comes first.
std::vector<Deed> in_good_order(std::vector<Deed> deeds, std::size_t numbers) {
  constexpr int none = -1;
  std::vector<int> maker(numbers, none), way(deeds.size(), 0), waits_for(deeds.size(), 0), there(deeds.size(), 0);
  std::vector<std::vector<int>> readers(deeds.size());
  for (std::size_t d = 0; d < deeds.size(); ++d) maker[at(deeds[d].out)] = static_cast<int>(d);
  for (std::size_t d = 0; d < deeds.size(); ++d)
    for (const int i : deeds[d].in)
      if (maker[at(i)] != none) {
        readers[at(maker[at(i)])].push_back(static_cast<int>(d));
        ++waits_for[d];
      }
  for (std::size_t d = deeds.size(); d-- > 0;) {
    for (const int r : readers[d]) way[d] = std::max(way[d], way[at(r)]);
    way[d] += latency(deeds[d].kind);
  }
  std::vector<int> ready;
  for (std::size_t d = 0; d < deeds.size(); ++d)
    if (waits_for[d] == 0) ready.push_back(static_cast<int>(d));
  std::vector<Deed> out;
  for (int half_cycle = 0; !ready.empty(); ++half_cycle) {
    const int now = half_cycle / 2;
    // What can start now, by its way to the end; if nothing can, what can start soonest.
    const auto best = std::min_element(ready.begin(), ready.end(), [&](int a, int b) {
      const int start_a = std::max(now, there[at(a)]), start_b = std::max(now, there[at(b)]);
      if (start_a != start_b) return start_a < start_b;
      return way[at(a)] != way[at(b)] ? way[at(a)] > way[at(b)] : a < b;
    });
    const int d = *best;
    ready.erase(best);
    const int start = std::max(now, there[at(d)]);
    half_cycle = std::max(half_cycle, 2 * start);
    for (const int r : readers[at(d)]) {
      there[at(r)] = std::max(there[at(r)], start + latency(deeds[at(d)].kind));
      if (--waits_for[at(r)] == 0) ready.push_back(r);
    }
    out.push_back(std::move(deeds[at(d)]));
  }
  return out;
}

class Allocator {
 public:
  Allocator(const Formula& formula, int registers)
      : formula_(formula),
        deeds_(in_good_order(deeds_of(formula), formula.operations().size())),
        uses_(formula.operations().size()),
        used_(uses_.size(), 0),
        home_(uses_.size(), none),
        where_(uses_.size(), none),
        holds_(at(registers), none) {
    out_.slots.end = at(formula.inputs());
    for (std::size_t d = 0; d < deeds_.size(); ++d)
      for (const int i : deeds_[d].in) uses_[at(i)].push_back(static_cast<int>(d));
    const std::vector<Formula::Operation>& all = formula.operations();
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (all[i].kind == Kind::input) home_[i] = all[i].a;
      if (all[i].kind != Kind::constant) continue;
      home_[i] = new_slot();
      out_.slots.constants.emplace_back(home_[i], all[i].constant);
    }
    wanted_.resize(uses_.size(), false);
    for (int r = 0; r < formula.results(); ++r) wanted_[at(formula.result_at(r))] = true;
  }

  Actions run() {
    for (const Deed& deed : deeds_) perform(deed);
    for (int r = 0; r < formula_.results(); ++r) out_.slots.results.push_back(home_[at(formula_.result_at(r))]);
    return std::move(out_);
  }

 private:
  static constexpr int none = -1;
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
    Action action{deed.kind, 0, 0, {}, 0, deed.constant};
    if (deed.kind == A::power || deed.kind == A::logarithm) {
      for (std::size_t r = 0; r < holds_.size(); ++r)
        if (holds_[r] != none) vacate(static_cast<int>(r));
      action.b = Place::in_slot(home_[at(deed.in[0])]);
      consume(deed);
      home_[at(deed.out)] = action.slot = wanted_[at(deed.out)] ? new_slot() : spill_slot();
      out_.list.push_back(action);
      give_slots_free(deed);
      return;
    }
    if (deed.kind == A::negate || deed.kind == A::root) {
      action.b = operand(deed.in[0]);
    } else if (deed.kind == A::blend) {
      Action compare{A::compare, 0, bring(deed.in[0]), {}, 0, 0.0};
      compare.b = operand(deed.in[1]);
      out_.list.push_back(compare);
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
    if (!wanted_[at(deed.out)]) return;
    home_[at(deed.out)] = new_slot();
    store(action.to, home_[at(deed.out)]);
    if (next_use(deed.out) == never) leave(deed.out);
  }

  /// A number into a register, for the deed at hand.
  int bring(int i) {
    int r = where_[at(i)];
    if (r == none) {
      r = free_register();
      out_.list.push_back({Action::Kind::load, r, 0, Place::in_slot(home_[at(i)]), 0, 0.0});
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
  void store(int r, int slot) { out_.list.push_back({Action::Kind::store, 0, r, {}, slot, 0.0}); }

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

  const Formula& formula_;
  std::vector<Deed> deeds_;
  std::vector<std::vector<int>> uses_;  ///< of each number, the deeds that need it
  std::vector<std::size_t> used_;       ///< how many of them are done
  std::vector<bool> wanted_;            ///< numbers that are results
  std::vector<int> home_, where_;       ///< of each number, its slot and its register
  std::vector<int> holds_;              ///< of each register, its number
  std::vector<int> pinned_;             ///< registers that the deed at hand reads
  std::vector<int> spilled_, idle_;     ///< slots for waiting numbers, in use and free
  Actions out_;
};

}  // namespace

Actions allocate_registers(const Formula& formula, int registers) {
  return Allocator(written_out(formula), registers).run();
}

}  // namespace trammel::math
