// The numbers of an outcome that have derivatives, and the packaging rules in terms of them.
#pragma once

#include "objectives/outcome.hpp"

namespace trammel::objectives {

/// One number of an outcome.
struct Quantity {
  enum class Kind {
    value,         ///< the `of`-th judged value of target `index`
    transmission,  ///< the least sin² of a joint's transmission angle
    distance2,     ///< the least squared distance of a pair of pivots
    slope,         ///< the least d(wheel travel)/ds
    room,          ///< a measure of the room
    drawn,         ///< by how much a rule on the points as drawn is missed
  };
  Kind kind = Kind::value;
  std::size_t index = 0, of = 0;
};

enum class Told {
  all,
  all_but_kept_distances,  ///< which say nothing to who sums up what is missed, and cost a root each
};

/// Hands every packaging rule to take(quantity, miss): what it looks at, and by how much it is missed as a multiple of
/// its scale (negative when it holds), with the derivative of that with respect to the quantity.
template <class Take>
void each_rule(const Demands& demands, const Outcome<double>& out, Told told, Take take) {
  using Kind = Quantity::Kind;
  using Miss = math::Dual<2>;  // the second partial is not used
  const Packaging& packaging = demands.packaging;
  const auto seen = [](double value) { return Miss::variable(value, 0); };
  const double angle = least_transmission(packaging);
  for (std::size_t j = 0; j < out.fit.transmission.size(); ++j)
    take(Quantity{Kind::transmission, j}, transmission_miss(angle, seen(out.fit.transmission[j].value)));
  if (packaging.least_pivot_distance) {
    const double kept = kept_distance2(*packaging.least_pivot_distance);
    for (std::size_t k = 0; k < out.fit.distance2.size(); ++k)
      if (const double distance2 = out.fit.distance2[k].value; told == Told::all || distance2 < kept)
        take(Quantity{Kind::distance2, k}, distance_miss(packaging, seen(distance2)));
  }
  if (demands.model.has_shock()) take(Quantity{Kind::slope}, slope_miss(seen(out.fit.slope.value)));
  for (std::size_t k = 0; k < demands.room.measures(); ++k)
    take(Quantity{Kind::room, k}, room_miss(demands.room.least(k), seen(out.fit.room[k].value)));
  std::size_t i = 0;
  drawn_misses(demands.model, packaging, out.points, [&](double miss) {
    take(Quantity{Kind::drawn, i++}, seen(miss));
  });
}

}  // namespace trammel::objectives
