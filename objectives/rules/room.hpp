// What the two rules on the room between bodies share.
#pragma once

#include "objectives/rules/views.hpp"

namespace trammel::objectives {

/// Scale at which missing room counts as one residual, mm.
inline constexpr double room_scale = 2.0;
/// A search asks for so much more room, mm, so that what it finds is safely inside: a penalty leaves its minimum just
/// outside a limit that binds, and a reported layout is rounded to a thousandth of a millimetre.
inline constexpr double room_inset = 0.02;

/// Misses of the measures first … last − 1 of the room; `watched[k]` is the least of each over the stroke.
template <class Lift, class T, class Take>
void room_misses(const Demands& demands, const std::vector<Least<T>>& watched, std::size_t first, std::size_t last,
                 Lift lift, Take take) {
  for (std::size_t k = first; k < last; ++k) {
    const auto measured = lift(watched[k].value);
    using U = std::decay_t<decltype(measured)>;
    take(Quantity{Quantity::Kind::room, k}, (U(demands.room.least(k) + room_inset) - measured) * U(1.0 / room_scale));
  }
}

/// Verdict on measure k of the room: demand number `item` of the rule.
void judge_room(const Demands& demands, const Outcome<double>& outcome, std::size_t k, std::size_t item,
                std::string where, Origin origin, RuleJudge& out);

}  // namespace trammel::objectives
