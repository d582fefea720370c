// The packaging rules in terms of the numbers of an outcome that have derivatives.
#pragma once

#include "objectives/outcome.hpp"

namespace trammel::objectives {

/// Hands every packaging rule to take(quantity, miss): what it looks at, and by how much it is missed as a multiple of
/// its scale (negative when it holds), with the derivative of that with respect to the quantity.
template <class Take>
void each_rule(const Demands& demands, const Outcome<double>& out, Told told, Take take) {
  using Miss = math::Dual<2>;  // the second partial is not used
  const auto seen = [](double value) { return Miss::variable(value, 0); };
  stroke_misses<RuleStage::stroke>(demands, out.fit, told, seen, take);
  stroke_misses<RuleStage::room>(demands, out.fit, told, seen, take);
  std::size_t i = 0;
  drawn_misses(demands, out.points, [&](double miss) { take(Quantity{Quantity::Kind::drawn, i++}, seen(miss)); });
}

}  // namespace trammel::objectives
