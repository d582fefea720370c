// The closed forms behind kernel.hpp, one step kind after another: positions. Their derivatives: kernel_rates.hpp.
#pragma once

#include "linkage/kernel_state.hpp"

namespace trammel::linkage::steps {

using math::cross;
using math::dot;
using math::max;
using math::min;
using math::perp;
using math::select;
using math::squared_norm;
using math::turn;
using math::turn_back;

/// A radicand is not let under this share of its scale, so that rates past a dead point stay finite.
inline constexpr double least_radicand = 1e-6;

inline std::size_t index(int i) {
  return static_cast<std::size_t>(i);
}

/// A line by a point on it and a direction, with their derivatives of one order.
template <class T>
struct Line {
  Vec2<T> origin, along;
};

/// Everything that the closed forms of one layout read.
template <class T>
struct View {
  const Program& program;
  const Geometry<T>& geometry;
  const State<T>& state;

  const T& constant(int i) const { return geometry.constants[index(i)]; }
  const T& kept(int i) const { return state.scratch[index(i)]; }
  const Vec2<T>& p(int i) const { return state.position[index(i)]; }
  const Vec2<T>& v(int i) const { return state.velocity[index(i)]; }
  const Vec2<T>& a(int i) const { return state.acceleration[index(i)]; }
  double shock_sign() const { return program.mechanism.drive.extends ? 1.0 : -1.0; }

  /// Of a shock.
  T length(const Constraint& c) const { return constant(c.constant) + state.s * shock_sign(); }
  /// Of a shock or a distance.
  T squared_length(const Constraint& c) const {
    if (c.rule == Rule::distance) return constant(c.constant);
    const T l = length(c);
    return l * l;
  }
};

/// And what they write.
template <class T>
struct Context : View<T> {
  Context(const Program& p, const Geometry<T>& g, State<T>& s) : View<T>{p, g, s}, state(s) {}
  T& scratch(int i) const { return state.scratch[index(i)]; }

  State<T>& state;
};

/// A crossing may lie no closer to the circles' centre line than this share of the centres' distance.
inline constexpr double least_height = 1e-9;

inline bool on_line(const Constraint& c) {
  return c.rule == Rule::line || c.rule == Rule::level;
}

/// The line that a line or level constraint keeps its point on, the drawn offset included.
template <class T>
Line<T> line_of(const Context<T>& k, const Constraint& c) {
  if (c.rule == Rule::level) return {{T(0.0), k.constant(c.constant) + k.state.s}, {T(1.0), T(0.0)}};
  const Vec2<T> u = k.p(c.b) - k.p(c.a);
  return {k.p(c.a) + perp(u) * (k.constant(c.constant) / squared_norm(u)), u};
}

/// Normal n of a constraint on point C: along it, C's velocity is prescribed.
template <class T>
Vec2<T> normal(const View<T>& k, const Constraint& c, const Vec2<T>& point) {
  if (c.rule == Rule::level) return {T(0.0), T(1.0)};
  if (c.rule == Rule::line) return perp(k.p(c.b) - k.p(c.a));
  return point - k.p(c.a);
}

/// Circle about a with radius² ra2 and circle about b: where they cross, on the side `branch` (±1) of a→b. Gives the
/// cross product of the ways there from a and b, too, which is never zero.
template <class T>
Vec2<T> cross_circles(const Vec2<T>& a, const Vec2<T>& b, const T& ra2, const T& rb2, const T& branch, T& margin,
                      T& product) {
  const Vec2<T> d = b - a;
  const T d2 = max(squared_norm(d), T(1e-12));
  const T inverse = T(1.0) / d2;
  const T along = T(0.5) + (ra2 - rb2) * T(0.5) * inverse;
  const T ra2_share = ra2 * inverse;
  const T h2 = ra2_share - along * along;
  const T scale = ra2_share * (rb2 * inverse);
  margin = h2 / scale;
  // As a share of the greatest triangle that the radii can make, so that a short radius on a long one is not clamped
  // early; for circles about nearly one centre as a share of their distance, which keeps the point near by.
  const T least = max(min(scale, T(1.0)) * T(least_radicand), T(least_height * least_height));
  const T h = branch * sqrt(max(h2, least));
  product = d2 * h;
  return a + d * along + perp(d) * h;
}

/// Circle about a with radius² r2 and a line: where they cross, forward or back (`branch`) along the line.
template <class T>
Vec2<T> cross_circle_line(const Vec2<T>& a, const T& r2, const Line<T>& line, const T& branch, T& margin) {
  const T inverse = T(1.0) / squared_norm(line.along);
  const Vec2<T> w = a - line.origin;
  const T off = cross(line.along, w);
  const T h2 = (r2 - off * off * inverse) * inverse;
  margin = T(1.0) - off * off * inverse / r2;
  const T t = dot(w, line.along) * inverse + branch * sqrt(max(h2, r2 * inverse * T(least_radicand)));
  return line.origin + line.along * t;
}

template <class T>
Vec2<T> cross_lines(const Line<T>& one, const Line<T>& two, T& margin) {
  const T c = cross(two.along, one.along);
  const T scale = squared_norm(one.along) * squared_norm(two.along);
  margin = c * c / scale;
  const T guarded = select(c * c < T(1e-12) * scale, sqrt(scale) * T(1e-6), c);
  return one.origin + one.along * (cross(two.along, two.origin - one.origin) / guarded);
}

template <class T>
void meet_position(const Context<T>& k, const Step& step, T& margin) {
  const T& branch = k.constant(step.constant);
  Vec2<T>& out = k.state.position[index(step.point)];
  const bool line_one = on_line(step.one), line_two = on_line(step.two);
  if (line_one && line_two) {
    out = cross_lines(line_of(k, step.one), line_of(k, step.two), margin);
  } else if (line_one || line_two) {
    const Constraint& circle = line_one ? step.two : step.one;
    out = cross_circle_line(k.p(circle.a), k.squared_length(circle), line_of(k, line_one ? step.one : step.two), branch,
                            margin);
  } else {
    out = cross_circles(k.p(step.one.a), k.p(step.two.a), k.squared_length(step.one), k.squared_length(step.two),
                        branch, margin, k.scratch(step.scratch));
  }
}

/// The hinge's line direction and the way from its pivot to the passed point.
template <class T>
struct Hinge {
  Vec2<T> along, way;
};
template <class T>
Hinge<T> hinge_of(const View<T>& k, const Step& step) {
  const Vec2<T> drawn{k.constant(step.constant), k.constant(step.constant + 1)};
  const Vec2<T> turned{k.kept(step.scratch), k.kept(step.scratch + 1)};
  return {turn(drawn, turned), k.p(step.b) - k.p(step.a)};
}

template <class T>
void hinge_position(const Context<T>& k, const Step& step, T& margin) {
  const Vec2<T> along{k.constant(step.constant), k.constant(step.constant + 1)};
  const Vec2<T> local{k.constant(step.constant + 2), k.constant(step.constant + 3)};
  const T& offset = k.constant(step.constant + 4);  // cross(along, way), the same in every position
  const T& along2 = k.constant(step.constant + 5);
  const T& branch = k.constant(step.constant + 6);
  const Vec2<T> way = k.p(step.b) - k.p(step.a);
  const T scale = max(along2 * squared_norm(way), T(1e-12));
  const T g2 = scale - offset * offset;
  margin = g2 / scale;
  const T g = branch * sqrt(max(g2, scale * T(least_radicand)));
  // along·turned has the cross product `offset` and the dot product g with `way`: solve for the unit vector `turned`.
  const Vec2<T> turned = turn(turn_back({g, -offset}, along), way) * (T(1.0) / scale);
  k.scratch(step.scratch) = turned.x;
  k.scratch(step.scratch + 1) = turned.y;
  k.state.position[index(step.point)] = k.p(step.a) + turn(local, turned);
}

template <class T>
Vec2<T> spin_direction(const Context<T>& k, const Step& step) {
  if (step.tear >= 0) return k.state.tears[index(step.tear)].at;
  // s is a plain drive angle; its own derivative, when it has one, turns the direction along.
  const T angle = math::lift<T>(value(k.state.s));
  const auto d = math::unit(value(k.state.s));
  const T x = math::lift<T>(d.x), y = math::lift<T>(d.y);
  const T rest = k.state.s - angle;
  return {x - rest * y, y + rest * x};
}

template <class T>
Vec2<T> local_of(const View<T>& k, const Step& step) {
  return {k.constant(step.constant), k.constant(step.constant + 1)};
}

template <class T>
void position(const Context<T>& k, const Step& step, T& margin) {
  Vec2<T>& out = k.state.position[index(step.point)];
  switch (step.kind) {
    case StepKind::place:
      out = k.p(step.a) + turn(k.p(step.b) - k.p(step.a), local_of(k, step));
      break;
    case StepKind::meet:
      meet_position(k, step, margin);
      break;
    case StepKind::hinge:
      hinge_position(k, step, margin);
      break;
    case StepKind::spin:
      out = k.p(step.a) + turn(local_of(k, step), spin_direction(k, step));
      break;
    case StepKind::slide: {
      const Vec2<T> u = k.p(step.b) - k.p(step.a);
      out = k.p(step.a) + u * k.state.tears[index(step.tear)].at.x + perp(u) * k.constant(step.constant + 1);
      break;
    }
  }
}

}  // namespace trammel::linkage::steps
