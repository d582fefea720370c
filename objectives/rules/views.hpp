// What rules along the stroke look at.
#pragma once

#include "objectives/demands.hpp"
#include "objectives/rules/rule.hpp"

namespace trammel::objectives {

/// A rule's view of a march: all that has been watched, and which of the separations are its own.
template <class T>
struct StrokeView {
  const Demands& demands;
  const Fit<T>& fit;
  Told told;
  std::size_t first = 0, last = 0;  ///< of `Demands::apart`
};

/// Scale at which a distance that is too short counts as one residual, mm.
inline constexpr double distance_scale = 2.0;

/// Misses of the view's separations. `least(k)` is the least distance of number k, mm; `lift` makes of a watched number
/// the one that misses are computed in.
template <class T, class Lift, class LeastOf, class Take>
void distance_misses(const StrokeView<T>& view, Lift lift, LeastOf least, Take take) {
  for (std::size_t k = view.first; k < view.last; ++k) {
    const double wanted = least(k);
    const T& distance2 = view.fit.distance2[k].value;
    // One that is kept needs no root.
    const math::Plain<T> kept(wanted * wanted * (1.0 + 1e-12));
    if (view.told == Told::all_but_kept_distances && math::all(math::value(distance2) >= kept)) continue;
    const auto lifted = lift(distance2);
    using U = std::decay_t<decltype(lifted)>;
    take(Quantity{Quantity::Kind::distance2, k}, (U(wanted) - math::sqrt(lifted)) * U(1.0 / distance_scale));
  }
}

}  // namespace trammel::objectives
