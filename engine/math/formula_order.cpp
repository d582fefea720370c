#include "math/formula_order.hpp"

#include <algorithm>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "math/trigonometry.hpp"

namespace trammel::math {
namespace {

using Kind = Formula::Kind;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// Gives the angle of a unit vector by `unit_angle_of(sine, cosine)`.
template <class UnitAngleOf>
Formula written_with(const Formula& formula, UnitAngleOf unit_angle_of) {
  Formula out;
  std::vector<Symbol> now;
  for (const Formula::Operation& o : formula.operations()) {
    const auto number = [&](int i) -> const Symbol& { return now[at(i)]; };
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
        now.push_back(unit_angle_of(number(o.a), number(o.b)));
        break;
      default:
        now.emplace_back(&out, out.copy(o, [&](int i) { return number(i).entry(out); }));
    }
  }
  for (int r = 0; r < formula.results(); ++r) out.result(now[at(formula.result_at(r))]);
  return out;
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

class Order {
 public:
  Order(std::vector<Deed> deeds, std::size_t numbers, int registers)
      : deeds_(std::move(deeds)),
        registers_(registers),
        maker_(numbers, none),
        to_read_(numbers, 0),
        way_(deeds_.size(), 0),
        there_(deeds_.size(), 0),
        waits_for_(deeds_.size(), 0),
        readers_(deeds_.size()) {
    for (std::size_t d = 0; d < deeds_.size(); ++d) maker_[at(deeds_[d].out)] = static_cast<int>(d);
    for (std::size_t d = 0; d < deeds_.size(); ++d)
      for (const int i : deeds_[d].in) {
        if (maker_[at(i)] == none) continue;
        readers_[at(maker_[at(i)])].push_back(static_cast<int>(d));
        ++to_read_[at(i)];
        ++waits_for_[d];
      }
    for (std::size_t d = deeds_.size(); d-- > 0;) {
      for (const int r : readers_[d]) way_[d] = std::max(way_[d], way_[at(r)]);
      way_[d] += latency(deeds_[d].kind);
    }
  }

  std::vector<Deed> take() {
    std::vector<int> ready;
    for (std::size_t d = 0; d < deeds_.size(); ++d)
      if (waits_for_[d] == 0) ready.push_back(static_cast<int>(d));
    std::vector<Deed> out;
    int held = 0;
    for (int step = 0; !ready.empty(); ++step) {  // two a cycle
      const int now = step / 2;
      const bool scarce = held >= registers_;
      const auto rank = [&](int d) {
        return std::tuple(scarce && gain(d) > 0, std::max(now, there_[at(d)]), -way_[at(d)], d);
      };
      const auto best = std::min_element(ready.begin(), ready.end(), [&](int a, int b) { return rank(a) < rank(b); });
      const int d = *best, start = std::max(now, there_[at(d)]);
      ready.erase(best);
      step = std::max(step, 2 * start);
      held += gain(d);
      for (const int i : deeds_[at(d)].in)
        if (maker_[at(i)] != none) --to_read_[at(i)];
      for (const int r : readers_[at(d)]) {
        there_[at(r)] = std::max(there_[at(r)], start + latency(deeds_[at(d)].kind));
        if (--waits_for_[at(r)] == 0) ready.push_back(r);
      }
      out.push_back(std::move(deeds_[at(d)]));
    }
    return out;
  }

 private:
  static constexpr int none = -1;

  /// How many more registers are held after a deed.
  int gain(int d) const {
    const Deed& deed = deeds_[at(d)];
    int more = readers_[at(d)].empty() ? 0 : 1;
    for (std::size_t k = 0; k < deed.in.size(); ++k) {
      const int i = deed.in[k];
      const auto same = std::count(deed.in.begin(), deed.in.end(), i);
      const bool first =
          std::find(deed.in.begin(), deed.in.end(), i) == deed.in.begin() + static_cast<std::ptrdiff_t>(k);
      if (first && maker_[at(i)] != none && to_read_[at(i)] == same) --more;
    }
    return more;
  }

  std::vector<Deed> deeds_;
  int registers_;
  std::vector<int> maker_, to_read_;  ///< of each number: the deed that makes it, how often it is still to be read
  std::vector<int> way_, there_, waits_for_;  ///< of each deed: cycles to the end, when its operands are there, how
                                              ///< many of them are not made yet
  std::vector<std::vector<int>> readers_;     ///< of each deed, those that read what it makes
};

}  // namespace

Formula written_out(const Formula& formula) {
  Formula out =
      written_with(formula, [](const Symbol& sine, const Symbol& cosine) { return angle_of_unit(sine, cosine); });
  out.finish();
  return out;
}

std::optional<Formula> written_out_quickly(const Formula& formula) {
  std::optional<Symbol> least;
  Formula out = written_with(formula, [&](const Symbol& sine, const Symbol& cosine) {
    least = least ? min(*least, cosine) : cosine;
    return quick_angle_of_unit(sine, cosine);
  });
  if (!least) return std::nullopt;
  // The symbol was noted in a formula that has moved since.
  out.result(least->known() ? *least : Symbol(&out, least->entry(out)));
  out.finish();
  return out;
}

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
          deed(Action::Kind::blend, {less.a, less.b, o.c, o.b}), deeds.back().condition = o.a;
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

std::vector<Deed> in_good_order(std::vector<Deed> deeds, std::size_t numbers, int registers) {
  return Order(std::move(deeds), numbers, registers).take();
}

}  // namespace trammel::math
