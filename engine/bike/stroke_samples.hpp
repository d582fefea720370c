// What a march through the stroke leaves behind: where the wheel was at even stations of the driving coordinate, and
// from where a motion goes on.
#pragma once

#include <vector>

#include "linkage/kernel.hpp"

namespace trammel::bike {

/// A place in the stroke: a driving coordinate, or a wheel travel.
struct Locus {
  bool driving = true;  ///< the coordinate is `offset`; else the travel is factor · whole travel + offset
  double factor = 0.0;
  double offset = 0.0;  ///< mm (of travel, or of the shock; radians for a turned member)
};

/// Stations of one layout (R a plain number), or of layouts side by side (R a pack).
template <class R>
struct StrokeSamples {
  std::vector<double> s;  ///< driving coordinate
  std::vector<R> travel;  ///< wheel travel, mm
  std::vector<R> slope;   ///< d travel / ds
  std::vector<std::vector<linkage::Tear<R>>> tears;

  /// `stations` ≥ 3, both ends of the range included.
  void resize(const linkage::Program& program, std::size_t stations) {
    const double step = program.mechanism.drive.range / static_cast<double>(stations - 1);
    s.resize(stations);
    for (std::size_t i = 0; i < stations; ++i) s[i] = step * static_cast<double>(i);
    travel.assign(stations, R(0.0));
    slope.assign(stations, R(0.0));
    tears.assign(stations, std::vector<linkage::Tear<R>>(static_cast<std::size_t>(program.tears)));
  }

  std::size_t stations() const { return s.size(); }
  bool forwards() const { return s.back() > 0.0; }

  /// Number of the interval in which the wheel rises past a travel, lane by lane; the first or last interval outside
  /// the whole travel.
  template <class T>
  math::Plain<T> interval_of_travel(const T& wanted) const {
    return count<T>([&](std::size_t i) { return math::value(travel[i]) < math::value(wanted); });
  }
  /// Number of the interval that holds a driving coordinate.
  template <class T>
  math::Plain<T> interval_of(const T& at) const {
    using P = math::Plain<T>;
    if (forwards()) return count<T>([&](std::size_t i) { return P(s[i]) < math::value(at); });
    return count<T>([&](std::size_t i) { return math::value(at) <= P(s[i]); });
  }

  /// The seed at the start of an interval.
  template <class T>
  void seed_at(const math::Plain<T>& interval, linkage::Seed<T>& out) const {
    const std::size_t n = tears.front().size();
    out.tears.resize(n);
    if (n == 0) return;
    out.s = math::lift<T>(interval) * T(s[1]);
    for (std::size_t j = 0; j < n; ++j) {
      const auto of = [&](auto member) {
        return math::pick(interval, [&](std::size_t i) -> const R& { return member(tears[i][j]); });
      };
      using Tear = const linkage::Tear<R>&;
      out.tears[j].at = {of([](Tear t) -> const R& { return t.at.x; }), of([](Tear t) -> const R& { return t.at.y; })};
      out.tears[j].rate = of([](Tear t) -> const R& { return t.rate; });
      out.tears[j].bend = of([](Tear t) -> const R& { return t.bend; });
    }
  }

  /// The driving coordinate at a wheel travel within an interval, to a few micrometres: Hermite's cubic of s over
  /// travel, with the exact slopes ds/dtravel at both ends.
  template <class T>
  T guess(const math::Plain<T>& interval, const T& wanted) const {
    const auto at = [&](const std::vector<R>& column, std::size_t further) {
      return T(math::pick(interval, [&](std::size_t i) -> const R& { return column[i + further]; }));
    };
    const auto guarded = [](const T& x) { return math::select(math::abs(x) < T(1e-6), T(1e-6), x); };
    const T from = at(travel, 0), width = guarded(at(travel, 1) - from);
    const T t = (wanted - from) / width, u = T(1.0) - t;
    const T ma = width / guarded(at(slope, 0)), mb = width / guarded(at(slope, 1));
    const T step(s[1]), start = math::lift<T>(interval) * step;
    return within(interval, start + step * (T(3.0) - T(2.0) * t) * t * t + t * u * (ma * u - mb * t));
  }

  /// A driving coordinate, kept within its interval.
  template <class T>
  T within(const math::Plain<T>& interval, const T& at) const {
    const T step(s[1]), number = math::lift<T>(interval);
    const T a = number * step, b = (number + T(1.0)) * step;
    return forwards() ? math::max(math::min(at, b), a) : math::max(math::min(at, a), b);
  }

 private:
  /// How many of the inner stations `before` holds for.
  template <class T, class Before>
  math::Plain<T> count(Before before) const {
    using P = math::Plain<T>;
    P number(0.0);
    for (std::size_t i = 1; i + 1 < s.size(); ++i) number = number + math::select(before(i), P(1.0), P(0.0));
    return number;
  }
};

/// The driving coordinate at a wheel travel, exactly: the march gives it to a few micrometres, one Newton step to
/// rounding. Outside the whole travel it stays at the nearest end. `move(s, interval)` gives the travel there and its
/// slope.
template <class T, class R, class Move>
T driving_at(const StrokeSamples<R>& march, const T& wanted, Move move) {
  const math::Plain<T> interval = march.interval_of_travel(wanted);
  const T guess = march.guess(interval, wanted);
  const auto [travel, slope] = move(guess, interval);
  const T guarded = math::select(math::abs(slope) < T(1e-6), T(1e-6), slope);
  return march.within(interval, T(guess - (travel - wanted) / guarded));
}

}  // namespace trammel::bike
