// Of the values that a target sees at its places, the numbers that are judged: one template for search, screening,
// gradients and verdicts.
#pragma once

#include <vector>

#include "math/number_types.hpp"
#include "objectives/target.hpp"

namespace trammel::objectives {

/// What one target sees, and what is made of it. Seen are the values of its `curves` at its `places`, curve by curve (a
/// curve in several gears counts as so many; for a path they are axle x and axle y); then, where `extent` says so, the
/// wheel travel at the first and at the last place.
struct Gathering {
  Reduction kind = Reduction::none;
  std::size_t places = 1;
  std::size_t curves = 1;
  bool extent = false;
  bool in_mm = false;           ///< crossing: wheel travel, not a fraction of it
  double level = 0.0;           ///< crossing; end slope: least slope that the ends are compared to, per mm
  double gap_scale = 1.0;       ///< crossing: a gap of this much counts as one travel
  std::vector<double> weights;  ///< of the values over a stretch of length 1: mean, slope, curvature, straightness
  std::vector<std::pair<double, double>> path;  ///< path: (x, y), y rising

  std::size_t values() const { return places * curves; }
  std::size_t seen() const { return values() + (extent ? 2 : 0); }
  /// How many numbers are judged: one a curve, but all that is seen without a measure, one for a spread, one a place
  /// for a path.
  std::size_t results() const {
    switch (kind) {
      case Reduction::none:
        return values();
      case Reduction::spread:
      case Reduction::bottom_margin:
      case Reduction::spacers:
        return 1;
      case Reduction::path:
        return places;
      default:
        return curves;
    }
  }
};

/// `places`: how many the target looks at.
Gathering make_gathering(const Target& target, std::size_t places);

/// A ratio's denominator, kept off zero.
template <class T>
T guarded(const T& x) {
  return math::select(math::abs(x) < T(1e-6), T(1e-6), x);
}

namespace detail {

/// One curve's values: `at(i)`, i < `places`.
template <class T, class At>
T weighted_sum(const Gathering& g, At at) {
  T sum(0.0);
  for (std::size_t i = 0; i < g.places; ++i) sum = sum + at(i) * T(g.weights[i]);
  return sum;
}

template <class T, class At>
T extreme(const Gathering& g, At at, bool greatest) {
  T out = at(0);
  for (std::size_t i = 1; i < g.places; ++i) out = greatest ? math::max(out, T(at(i))) : math::min(out, T(at(i)));
  return out;
}

/// The greatest climb from a place to any later one.
template <class T, class At>
T climb(const Gathering& g, At at) {
  T lowest = at(0), out = at(1) - at(0);
  for (std::size_t i = 1; i < g.places; ++i) {
    const T here = at(i);
    out = math::max(out, T(here - lowest));
    lowest = math::min(lowest, here);
  }
  return out;
}

template <class T, class At>
T straightness(const Gathering& g, At at) {
  T middle(0.0);
  for (std::size_t i = 0; i < g.places; ++i) middle = middle + at(i);
  const double n = static_cast<double>(g.places - 1);
  middle = middle * T(1.0 / static_cast<double>(g.places));
  const T slope = weighted_sum<T>(g, at);
  T out(0.0);
  for (std::size_t i = 0; i < g.places; ++i)
    out = math::max(out, T(math::abs(T(at(i) - middle - slope * T(static_cast<double>(i) / n - 0.5)))));
  return out;
}

/// The sum of all climbs from one place to the next.
template <class T, class At>
T all_climbs(const Gathering& g, At at) {
  T out(0.0);
  for (std::size_t i = 1; i < g.places; ++i) out = out + math::max(T(at(i) - at(i - 1)), T(0.0));
  return out;
}

/// `travel` is the wheel travel from the first place to the last, mm.
template <class T, class At>
T end_slope(const Gathering& g, At at, const T& travel) {
  const auto step = [&](std::size_t i) { return T(math::abs(T(at(i + 1) - at(i)))); };
  const std::size_t last = g.places - 2;
  T between(0.0);
  for (std::size_t i = 1; i < last; ++i) between = between + step(i);
  const double steps = last > 1 ? static_cast<double>(last - 1) : 1.0;
  const T least = travel * T(g.level / static_cast<double>(last + 1));
  const T compared = math::max(math::max(T(between * T(1.0 / steps)), least), T(1e-9));
  return math::max(step(0), step(last)) / compared;
}

/// u of the first crossing. A curve that does not reach the level: nearest to it at its start, it counts as having
/// crossed before, at u < 0; else as not having crossed yet, at u > 1; the further the greater its least gap.
template <class T, class At>
T crossing(const Gathering& g, At at) {
  const auto above = [&](std::size_t i) { return T(at(i) - T(g.level)); };
  const T first = math::abs(above(0));
  T gap = first;
  for (std::size_t i = 1; i < g.places; ++i) gap = math::min(gap, T(math::abs(above(i))));
  const T past = gap * T(1.0 / g.gap_scale);
  T out = math::select(first <= gap, T(-past), T(T(1.0) + past));
  const double n = static_cast<double>(g.places - 1);
  for (std::size_t i = g.places - 1; i-- > 0;) {
    const T a = above(i), b = above(i + 1);
    const auto passes = a * b <= T(0.0);
    const T step = a - b;
    const T share = a / math::select(math::abs(step) < T(1e-12), T(1e-12), step);
    out = math::select(passes, T((T(static_cast<double>(i)) + share) * T(1.0 / n)), out);
  }
  return out;
}

/// How many spacers bring a margin to 0, straight between whole numbers; `margin(k)` is that with k of them, k ≤
/// `most`, and grows with k. Beyond the ends the line goes on.
template <class T, class Margin>
T spacers_for(std::size_t most, Margin margin) {
  T out(0.0);
  for (std::size_t k = most; k-- > 0;) {
    const T low = margin(k), high = margin(k + 1), step = high - low;
    const T here = T(static_cast<double>(k)) - low / math::select(math::abs(step) < T(1e-9), T(1e-9), step);
    out = k + 1 == most ? here : math::select(high >= T(0.0), here, out);
  }
  return out;
}

template <class T>
T path_x(const std::vector<std::pair<double, double>>& path, const T& y) {
  T x(path.front().first);
  for (std::size_t k = 1; k < path.size(); ++k) {
    const auto& [x0, y0] = path[k - 1];
    const auto& [x1, y1] = path[k];
    const T along = math::min(T((y - T(y0)) * T(1.0 / (y1 - y0))), T(1.0));
    x = math::select(y > T(y0), T(T(x0) + along * T(x1 - x0)), x);
  }
  return x;
}

}  // namespace detail

/// The r-th number that is judged; `at(i)` gives the i-th seen.
template <class T, class At>
T reduced(const Gathering& g, std::size_t r, At at) {
  const auto own = [&](std::size_t i) -> T { return at(r * g.places + i); };
  const auto length = [&] { return guarded(T(T(at(g.values() + 1)) - T(at(g.values())))); };
  switch (g.kind) {
    case Reduction::none:
      return at(r);
    case Reduction::drop_share:
      return (own(0) - own(1)) / guarded(own(0));
    case Reduction::difference:
      return own(1) - own(0);
    case Reduction::ratio:
      return own(1) / guarded(own(0));
    case Reduction::mean:
      return detail::weighted_sum<T>(g, own);
    case Reduction::least:
      return detail::extreme<T>(g, own, false);
    case Reduction::greatest:
      return detail::extreme<T>(g, own, true);
    case Reduction::range:
      return detail::extreme<T>(g, own, true) - detail::extreme<T>(g, own, false);
    case Reduction::slope:
      return detail::weighted_sum<T>(g, own) / length();
    case Reduction::curvature:
      return detail::weighted_sum<T>(g, own) / math::square(length());
    case Reduction::straightness:
      return detail::straightness<T>(g, own);
    case Reduction::rise:
      return detail::climb<T>(g, own);
    case Reduction::fall:
      return detail::climb<T>(g, [&](std::size_t i) -> T { return -own(i); });
    case Reduction::total_rise:
      return detail::all_climbs<T>(g, own);
    case Reduction::end_slope:
      return detail::end_slope<T>(g, own, length());
    case Reduction::crossing: {
      const T u = detail::crossing<T>(g, own);
      return g.in_mm ? T(u * length()) : u;
    }
    case Reduction::spread: {
      T out(0.0);
      for (std::size_t i = 0; i < g.places; ++i) {
        T lo = at(i), hi = lo;
        for (std::size_t k = 1; k < g.curves; ++k) {
          const T y = at(k * g.places + i);
          lo = math::min(lo, y);
          hi = math::max(hi, y);
        }
        out = math::max(out, T(hi - lo));
      }
      return out;
    }
    case Reduction::bottom_margin:
    case Reduction::spacers: {
      // Curve by curve, sag and bottomed: what set-up finds at sag, last the leverage, which counts bottomed.
      const T leverage = guarded(T(at(g.values() - 1)));
      const auto margin = [&](std::size_t k) { return T(T(at(k * g.places)) / leverage - T(100.0)); };
      return g.kind == Reduction::bottom_margin ? margin(0) : detail::spacers_for<T>(g.curves - 2, margin);
    }
    case Reduction::path:
      break;
  }
  return T(at(r)) - detail::path_x(g.path, T(at(g.places + r)));
}

}  // namespace trammel::objectives
