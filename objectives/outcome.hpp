// What a layout, or a pack of layouts, achieves of what is asked: filled by whoever moves it, weighed here.
#pragma once

#include <optional>
#include <vector>

#include "objectives/rules/table.hpp"

namespace trammel::objectives {

/// How much lower than told a measure of the room could be elsewhere in the stroke, mm.
inline constexpr double room_accuracy = 0.01;

/// Where a measure of the room is least.
struct Nearest {
  double s = 0.0;       ///< driving coordinate
  double travel = 0.0;  ///< wheel travel there, mm; of layouts that are judged
  /// Places shortly before and after, between which it is least, and how much the first weighs: its derivatives are
  /// those two's, weighted so that moving along the stroke changes nothing. In a smooth dip that is the derivative at
  /// the bottom; in a corner, where two features are equally near, that of the corner. The same place at an end.
  double before = 0.0, after = 0.0;
  double weight_before = 1.0;
  /// How much lower than told it could be elsewhere, mm, as far as was asked: `room_accuracy`, or more where the search
  /// of the stroke was given up; of layouts that are judged, else 0.
  double accuracy = 0.0;
};

/// The must of the brief that moves most with a coordinate of a linkage point.
struct Sensed {
  double tolerances_per_mm = 0.0;
  std::size_t target = 0;      ///< its number
  std::size_t coordinate = 0;  ///< 2 · point, + 1 for y
};

template <class T>
struct Outcome {
  std::vector<math::Vec2<T>> points;  ///< as drawn
  Fit<T> fit;
  std::vector<T> march_travel;          ///< wheel travel at the stations of the march, mm
  std::vector<std::vector<T>> values;   ///< of each target: what is judged
  std::vector<std::vector<T>> travels;  ///< wheel travel at its places, mm
  std::vector<std::vector<T>> seen;     ///< of a measure: what it is made from (see Gathering); else empty
  std::vector<T> driving;               ///< driving coordinate of each place
  std::vector<Nearest> nearest;         ///< one a measure of the room, where it has been looked for
  std::optional<Sensed> sensitivity;    ///< of layouts that are judged, where slopes are at hand

  void resize(const Demands& demands) {
    const std::size_t n = demands.targets.size();
    points.resize(demands.model.layout.mechanism.points.size());
    march_travel.assign(march_intervals + 1, T(0.0));
    values.resize(n);
    travels.resize(n);
    seen.resize(n);
    driving.assign(demands.places.stations.size(), T(0.0));
    for (std::size_t t = 0; t < n; ++t) {
      const Gathering& gathering = demands.places.gatherings[t];
      values[t].assign(gathering.results(), T(0.0));
      travels[t].assign(gathering.places, T(0.0));
      seen[t].assign(gathering.kind == Reduction::none ? 0 : gathering.seen(), T(0.0));
    }
    start(demands);
  }
  /// Forgets what has been watched.
  void start(const Demands& demands) {
    fit.start(demands.model.joints(), demands.apart.size(), demands.room.measures());
  }

  /// Whether it assembles at the stations watched so far.
  math::Truth<T> assembles() const {
    math::Truth<T> sound(true);
    for (const Least<T>& least : fit.transmission) sound = sound & (least.value > T(0.0));
    return sound;
  }
};

/// Where the value goes that a look sees, and the wheel travel at its place, which only its target's first looks note.
template <class T>
T* seen_by(const Demands& demands, const Look& look, Outcome<T>& out) {
  const bool judged = demands.places.gatherings[look.target].kind == Reduction::none;
  return &(judged ? out.values : out.seen)[look.target][look.index];
}
template <class T>
T* travel_of(const Demands& demands, const Look& look, Outcome<T>& out) {
  return look.index < demands.places.gatherings[look.target].places ? &out.travels[look.target][look.index] : nullptr;
}

/// The values of a target on a measure, once its places are known; nothing for other targets.
template <class T>
void finish_measure(const Demands& demands, std::size_t t, Outcome<T>& out) {
  const Gathering& gathering = demands.places.gatherings[t];
  if (gathering.kind == Reduction::none) return;
  for (std::size_t r = 0; r < out.values[t].size(); ++r)
    out.values[t][r] = reduced<T>(gathering, r, [&](std::size_t i) -> const T& { return out.seen[t][i]; });
}

/// What the i-th value of target t adds to the figure.
template <class T>
T share(const Demands& demands, const Outcome<T>& out, std::size_t t, std::size_t i, const Emphasis& emphasis) {
  return share_of(demands.targets[t], demands.allowed[t][i], out.values[t][i], out.values[t].size(), emphasis);
}

/// The rules' part of the figure, not yet weighted: of the points as drawn, of what has been watched along the stroke
/// so far, and of the room between bodies.
template <class T>
T drawn_figure(const Demands& demands, const std::vector<math::Vec2<T>>& points) {
  T sum(0.0);
  drawn_misses(demands, points, [&](const T& miss) { sum = sum + rule_share(miss); });
  return sum;
}
namespace detail {
template <RuleStage stage, class T>
T watched_figure(const Demands& demands, const Fit<T>& fit) {
  T sum(0.0);
  stroke_misses<stage>(
      demands, fit, Told::all_but_kept_distances, [](const T& x) { return x; },
      [&](const Quantity&, const T& miss) { sum = sum + rule_share(miss); });
  return sum;
}
}  // namespace detail
template <class T>
T stroke_figure(const Demands& demands, const Fit<T>& fit) {
  return detail::watched_figure<RuleStage::stroke>(demands, fit);
}
template <class T>
T room_figure(const Demands& demands, const Fit<T>& fit) {
  return detail::watched_figure<RuleStage::room>(demands, fit);
}

/// The figure to search by: Σ weight·residual² over targets and rules, each residual limited; 0 = all is as wished.
template <class T>
T figure(const Demands& demands, const Outcome<T>& out, const Emphasis& emphasis) {
  T sum(0.0);
  for (std::size_t t = 0; t < out.values.size(); ++t)
    for (std::size_t i = 0; i < out.values[t].size(); ++i) sum = sum + share(demands, out, t, i, emphasis);
  const T rules = drawn_figure(demands, out.points) + stroke_figure(demands, out.fit) + room_figure(demands, out.fit);
  return sum + rules * T(emphasis.must);
}

}  // namespace trammel::objectives
