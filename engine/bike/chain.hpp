// The driving run of the chain: from the cog over or under an optional idler to the chainring.
#pragma once

#include <array>

#include "math/vec2.hpp"

namespace trammel::bike {

using math::Vec2;

/// A straight span between two circles.
template <class T>
struct Span {
  Vec2<T> along;  ///< unit vector from the first circle to the second
  T length{};     ///< mm
};

/// Common tangent of two circles whose radii are counted + where the chain runs over the circle and − where it runs
/// under it. The circles must not lie inside one another.
template <class T>
Span<T> tangent(const Vec2<T>& from, double from_radius, const Vec2<T>& to, double to_radius) {
  const Vec2<T> d = to - from;
  const double difference = from_radius - to_radius;
  const T squared = squared_norm(d);
  const T length = math::sqrt(math::max(squared - T(difference * difference), T(1e-9)));
  // d = along · (length + i·difference) as complex numbers: the tangent leaves both circles at right angles. The
  // quotient comes first, as gears on the same shafts share it.
  return {turn_back(d * (T(1.0) / squared), Vec2<T>{length, T(difference)}), length};
}

/// How far two circles are from standing in the way of a span between them: the share of their centres' squared
/// distance that is left for the span, 1 far apart, 0 where they touch (from outside where the chain crosses between
/// them, from inside where it does not), below 0 where no span runs. `between` leads from centre to centre,
/// `difference` is that of the radii, signed as for `tangent`, mm.
template <class T>
T tangent_margin(const Vec2<T>& between, double difference) {
  return T(1.0) - T(difference * difference) / math::max(squared_norm(between), T(1e-12));
}

/// Angle by which a unit vector has turned, radians, −π to π.
template <class T>
T turn_between(const Vec2<T>& before, const Vec2<T>& after) {
  return math::unit_angle(cross(before, after), dot(before, after));
}

/// The circles of both runs, radii in mm; those of idler and roller are signed (+ over, − under).
struct ChainCircles {
  double cog = 0.0;
  double idler = 0.0;  ///< on the driving run
  double ring = 0.0;
  bool has_idler = false;
  double roller = 0.0;  ///< on the slack run
  bool has_roller = false;
};

template <class T>
struct ChainRun {
  std::array<Span<T>, 2> spans;  ///< the second only with an idler
};

/// A span that begins or ends at an idler or roller, whose circles may come too near to each other for a chain to run.
struct ChainSpan {
  bool to_cog = false;      ///< to the cog, else to the chainring
  double difference = 0.0;  ///< of the signed radii, mm; of several gears the greatest
  bool of_roller = false;   ///< of a roller on the slack run, else of an idler
};

/// See tangent_margin.
template <class T>
T span_margin(const ChainSpan& span, const Vec2<T>& axle, const Vec2<T>& lead) {
  return tangent_margin(span.to_cog ? axle - lead : lead, span.difference);
}

/// The run with the cog at `axle`, the chainring at the origin.
template <class T>
ChainRun<T> chain_run(const ChainCircles& c, const Vec2<T>& axle, const Vec2<T>& idler) {
  const Vec2<T> origin{T(0.0), T(0.0)};
  if (!c.has_idler) return {{tangent(axle, c.cog, origin, c.ring), Span<T>{}}};
  return {{tangent(axle, c.cog, idler, c.idler), tangent(idler, c.idler, origin, c.ring)}};
}

/// Change of chain in mm that the run needs between two positions, wheel and crank held to the frame: the change of
/// its straight lengths and of the arcs that it wraps on each circle.
template <class T>
T chain_growth(const ChainCircles& c, const ChainRun<T>& before, const ChainRun<T>& after) {
  const T first = after.spans[0].length - before.spans[0].length;
  const T turn1 = turn_between(before.spans[0].along, after.spans[0].along);
  if (!c.has_idler) return first + turn1 * (c.ring - c.cog);
  const T second = after.spans[1].length - before.spans[1].length;
  const T turn2 = turn_between(before.spans[1].along, after.spans[1].along);
  return first + second + turn1 * (c.idler - c.cog) + turn2 * (c.ring - c.idler);
}

/// Speed at which the cog takes up chain while the chain drives and the crank is held, in the unit of the velocities
/// given: what the spans shorten. The wheel turns against the frame at that over the cog's radius. `axle_velocity`,
/// `idler_velocity` in frame axes.
template <class T>
T taken_up(const ChainCircles& c, const ChainRun<T>& run, const Vec2<T>& axle_velocity, const Vec2<T>& idler_velocity) {
  const T pulled = dot(run.spans[0].along, axle_velocity);
  return c.has_idler ? pulled - dot(run.spans[0].along - run.spans[1].along, idler_velocity) : pulled;
}

}  // namespace trammel::bike
