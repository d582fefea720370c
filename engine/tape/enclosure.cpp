#include "tape/enclosure.hpp"

namespace trammel::tape {
namespace {

using Kind = Tape::Kind;

std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

/// What an operation is known as.
TapeExcerpt::Kind known_as(const std::vector<Tape::Operation>& all, const Tape::Operation& o) {
  using enum TapeExcerpt::Kind;
  if (o.kind == Kind::multiply && o.a == o.b) return square;
  if (o.kind != Kind::choose) return plain;
  const Tape::Operation& condition = all[index(o.a)];
  if (condition.kind != Kind::less) return plain;
  if (condition.a == o.c && condition.b == o.b) return greater;
  if (condition.a == o.b && condition.b == o.c) return lesser;
  const Tape::Operation &yes = all[index(o.b)], &limit = all[index(condition.b)];
  const bool below_nothing = limit.kind == Kind::constant && limit.constant == 0.0;
  if (below_nothing && condition.a == o.c && yes.kind == Kind::negate && yes.a == o.c) return absolute;
  return plain;
}

}  // namespace

TapeExcerpt::TapeExcerpt(const Tape& tape, const std::vector<int>& results)
    : input_at_(tape.input_operations()), result_at_(tape.result_operations()), size_(tape.operations().size()) {
  const std::vector<Tape::Operation>& all = tape.operations();
  std::vector<bool> needed(all.size(), false);
  for (const int r : results) needed[index(tape.result_at(r))] = true;
  for (std::size_t i = all.size(); i-- > 0;)
    if (needed[i]) Tape::each_operand(all[i], [&](int operand) { needed[index(operand)] = true; });
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!needed[i]) continue;
    if (all[i].kind == Tape::Kind::input)
      inputs_.push_back(all[i].a);
    else
      steps_.push_back({all[i], static_cast<int>(i), known_as(all, all[i])});
  }
}

std::vector<TapeExcerpt::Guarded> TapeExcerpt::guarded(const Tape& tape, double share) const {
  const std::vector<Tape::Operation>& all = tape.operations();
  const auto of = [&](int i) -> const Tape::Operation& { return all[index(i)]; };
  // The limit is share · scale, or share · min(scale, 1), itself kept from falling too low.
  const auto scale_of = [&](int limit) {
    if (of(limit).kind == Tape::Kind::choose && of(of(limit).b).kind == Tape::Kind::constant) limit = of(limit).c;
    const Tape::Operation& product = of(limit);
    if (product.kind != Tape::Kind::multiply) return -1;
    const auto is_share = [&](int i) { return of(i).kind == Tape::Kind::constant && of(i).constant == share; };
    if (!is_share(product.a) && !is_share(product.b)) return -1;
    const int scale = is_share(product.a) ? product.b : product.a;
    const Tape::Operation& o = of(scale);
    if (known_as(all, o) != Kind::lesser) return scale;
    return of(o.b).kind == Tape::Kind::constant ? o.c : o.b;
  };
  std::vector<Guarded> out;
  for (std::size_t i = 0; i < steps_.size(); ++i) {
    if (steps_[i].kind != Kind::greater) continue;
    const int b = steps_[i].operation.b, c = steps_[i].operation.c;
    for (const auto& [number, limit] : {std::pair(b, c), std::pair(c, b)})
      if (const int scale = scale_of(limit); scale >= 0 && of(number).kind != Tape::Kind::constant)
        out.push_back({i, number, limit, scale});
  }
  return out;
}

}  // namespace trammel::tape
