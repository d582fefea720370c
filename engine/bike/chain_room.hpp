// What the chain needs besides its driving run: the slack run, and room along the linkage.
#pragma once

#include <vector>

#include "bike/chain.hpp"

namespace trammel::bike {

/// The circles of the slack run, which goes under cog and chainring and over or under a roller where there is one; no
/// derailleur is on it: what it loses and gains with the linkage's movement is what the derailleur's cage has to give
/// or take.
inline ChainCircles slack_circles(const ChainCircles& c) {
  return {-c.cog, c.roller, -c.ring, c.has_roller};
}

/// Where the axle and what leads the chain are: idler and roller only where there are any.
template <class T>
struct ChainPlaces {
  Vec2<T> axle, idler, roller;
};

/// Change of chain in mm that both runs need together since topped out, wheel and crank held to the frame.
/// `driving` is the driving run topped out, `drawn` the places there.
template <class T>
T total_chain_growth(const ChainCircles& c, const ChainRun<T>& driving, const ChainPlaces<T>& drawn,
                     const ChainPlaces<T>& here) {
  const ChainCircles slack = slack_circles(c);
  return chain_growth(c, driving, chain_run(c, here.axle, here.idler)) +
         chain_growth(slack, chain_run(slack, drawn.axle, drawn.roller), chain_run(slack, here.axle, here.roller));
}

/// Distance of a point from a span that leaves its circle (`centre`, signed `radius`), mm.
template <class T>
T distance_from(const Span<T>& span, const Vec2<T>& centre, double radius, const Vec2<T>& point) {
  const Vec2<T> from = point - centre - perp(span.along) * T(radius);
  const T along = math::max(math::min(dot(from, span.along), span.length), T(0.0));
  return norm(from - span.along * along);
}

/// Distance of a chain that is nowhere near, mm: what a layout without points to watch has.
inline constexpr double no_chain_near = 1e4;

/// Least distance in side view from the pitch line of the driving run to the points, mm.
template <class T>
T chain_clearance(const ChainCircles& c, const Vec2<T>& axle, const Vec2<T>& idler, const std::vector<int>& points,
                  const std::vector<Vec2<T>>& position) {
  const ChainRun<T> run = chain_run(c, axle, idler);
  T least(no_chain_near);
  for (int p : points) {
    const Vec2<T>& point = position[static_cast<std::size_t>(p)];
    least = math::min(least, distance_from(run.spans[0], axle, c.cog, point));
    if (c.has_idler) least = math::min(least, distance_from(run.spans[1], idler, c.idler, point));
  }
  return least;
}

}  // namespace trammel::bike
