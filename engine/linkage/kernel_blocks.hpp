// Groups of steps, with tears and without, behind kernel.hpp.
#pragma once

#include <array>

#include "linkage/kernel_rates.hpp"

namespace trammel::linkage::blocks {

using steps::Context;
using steps::index;

/// Most tears that one block may have; `compile` looks no further.
inline constexpr int most_tears = 4;
/// Most Newton steps of a block: from a second-order prediction two or three reach rounding; the rest are reserve.
inline constexpr int newton_steps = 6;
/// A Newton step (radians, or share of the rail) so small that the next one would be under rounding, since the error
/// is squared each time. Derivatives are exact only with a step from where the closures hold, and wait for one more.
template <class T>
inline constexpr double last_step = std::is_same_v<T, math::Plain<T>> ? 1e-7 : 1e-12;
/// Greatest turn (radians) or slide (share of the rail) of one Newton step.
inline constexpr double greatest_step = 0.3;
/// A closure counts as closed when its error, as a share of its length, is under this.
inline constexpr double closed = 1e-10;

template <class T>
using Matrix = std::array<std::array<T, most_tears>, most_tears>;
template <class T>
using Vector = std::array<T, most_tears>;

/// How far a closure is from holding, as a share of its own size.
template <class T>
T gap(const Context<T>& k, const Closure& closure) {
  const Vec2<T> c = k.p(closure.point);
  if (closure.rule.rule == Rule::level) return c.y - k.constant(closure.rule.constant) - k.state.s;
  if (closure.rule.rule == Rule::line) {
    const Vec2<T> u = k.p(closure.rule.b) - k.p(closure.rule.a);
    return (cross(u, c - k.p(closure.rule.a)) - k.constant(closure.rule.constant)) / squared_norm(u);
  }
  return (squared_norm(c - k.p(closure.rule.a)) / k.squared_length(closure.rule) - T(1.0)) * T(0.5);
}

template <class T>
T gap_scale(const Context<T>& k, const Closure& closure) {
  if (closure.rule.rule == Rule::level) return T(1.0);
  if (closure.rule.rule == Rule::line) return T(1.0) / squared_norm(k.p(closure.rule.b) - k.p(closure.rule.a));
  return T(1.0) / k.squared_length(closure.rule);
}

/// d(gap)/ds minus what the point's velocity already gives: the rate at which the closure opens.
template <class T>
T gap_rate(const Context<T>& k, const Closure& closure, double drive) {
  const Vec2<T> c = k.p(closure.point);
  const T moved = dot(steps::normal(k, closure.rule, c), k.v(closure.point));
  return (moved - steps::normal_velocity(k, closure.rule, c, drive)) * gap_scale(k, closure);
}

template <class T>
T gap_bend(const Context<T>& k, const Closure& closure) {
  const Vec2<T> c = k.p(closure.point);
  const T moved = dot(steps::normal(k, closure.rule, c), k.a(closure.point));
  return (moved - steps::normal_acceleration(k, closure.rule, c, k.v(closure.point))) * gap_scale(k, closure);
}

template <class T, class M>
void swap_if(const M& condition, T& a, T& b) {
  const T first = math::select(condition, b, a);
  b = math::select(condition, a, b);
  a = first;
}

/// Solves A·x = b by elimination with partial pivoting; returns the determinant.
template <class T>
T eliminate(Matrix<T>& a, Vector<T>& b, int n) {
  T determinant(1.0);
  for (int c = 0; c < n; ++c) {
    // The greatest head of the column comes up by exchanging rows, in each lane by itself.
    for (int r = c + 1; r < n; ++r) {
      const auto greater = math::abs(value(a[index(r)][index(c)])) > math::abs(value(a[index(c)][index(c)]));
      for (int j = c; j < n; ++j) swap_if(greater, a[index(r)][index(j)], a[index(c)][index(j)]);
      swap_if(greater, b[index(r)], b[index(c)]);
      determinant = math::select(greater, -determinant, determinant);
    }
    const T head = a[index(c)][index(c)];
    determinant = determinant * head;
    const T guarded = math::select(math::abs(head) < T(1e-12), T(1e-12), head);
    const T inverse = T(1.0) / guarded;
    for (int r = c + 1; r < n; ++r) {
      const T factor = a[index(r)][index(c)] * inverse;
      for (int j = c + 1; j < n; ++j) a[index(r)][index(j)] = a[index(r)][index(j)] - factor * a[index(c)][index(j)];
      b[index(r)] = b[index(r)] - factor * b[index(c)];
    }
    a[index(c)][index(c)] = inverse;
  }
  for (int r = n; r-- > 0;) {
    T sum = b[index(r)];
    for (int j = r + 1; j < n; ++j) sum = sum - a[index(r)][index(j)] * b[index(j)];
    b[index(r)] = sum * a[index(r)][index(r)];
  }
  return determinant;
}

template <class T>
bool spins(const Context<T>& k, const Group& group, int tear) {
  for (int i = group.first; i < group.last; ++i) {
    const Step& s = k.program.steps[index(i)];
    if (s.tear == tear) return s.kind == StepKind::spin;
  }
  return true;
}

/// Advances a tear by an angle (spin) or along its line (slide).
template <class T>
void advance(Tear<T>& tear, const T& by, bool spin) {
  if (spin) {
    const T shrink = T(1.0) / sqrt(T(1.0) + by * by);
    tear.at = turn(tear.at, {shrink, by * shrink});
  } else {
    tear.at.x = tear.at.x + by;
  }
}

/// d(gap_i)/d(tear_j), by moving one tear at a time at unit rate with everything outside the group at rest.
template <class T>
Matrix<T> sensitivities(const Context<T>& k, const Group& group) {
  const int n = static_cast<int>(group.closures.size());
  Matrix<T> matrix{};
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) k.state.tears[index(group.first_tear + i)].rate = T(i == j ? 1.0 : 0.0);
    for (int i = group.first; i < group.last; ++i) steps::velocity(k, k.program.steps[index(i)], 0.0);
    for (int i = 0; i < n; ++i) matrix[index(i)][index(j)] = gap_rate(k, group.closures[index(i)], 0.0);
  }
  return matrix;
}

/// The determinant of the sensitivities with unit rows, squared, with the sign of the determinant: a block's measure
/// of transmission (for one closure on a rod it is sin² of the angle that the rod makes with its end's motion).
template <class T>
T signed_square(const T& determinant, const T& scale2) {
  const T square = determinant * determinant / math::max(scale2, T(1e-30));
  return math::select(determinant < T(0.0), -square, square);
}

template <class T>
void run_positions(const Context<T>& k, const Group& group) {
  for (int i = group.first; i < group.last; ++i)
    steps::position(k, k.program.steps[index(i)], k.state.margin[index(i)]);
}

template <class T>
void rest(const Context<T>& k, const Group& group) {
  for (int i = group.first; i < group.last; ++i)
    k.state.velocity[index(k.program.steps[index(i)].point)] = Vec2<T>{T(0.0), T(0.0)};
}

/// Row by row, the squared size that gives the determinant of the sensitivities its scale.
template <class T>
T scale_of(const Context<T>& k, const Group& group, const Matrix<T>& matrix) {
  const std::size_t n = group.closures.size();
  T scale2(1.0);
  for (std::size_t i = 0; i < n; ++i) {
    T row(0.0);
    for (std::size_t j = 0; j < n; ++j) row = row + matrix[i][j] * matrix[i][j];
    scale2 = scale2 * row;
  }
  if (n != 1) return scale2;
  // One tear: the row alone has determinant² = row; the end's own speed, not the row, is then the scale.
  const Closure& c = group.closures.front();
  const T speed2 = squared_norm(k.v(c.point) - (c.rule.a >= 0 ? k.v(c.rule.a) : Vec2<T>{T(0.0), T(0.0)}));
  const T size = gap_scale(k, c);
  return speed2 * squared_norm(steps::normal(k, c.rule, k.p(c.point))) * size * size;
}

/// Newton's method on the tears of a group, from where they stand; sets the group's margin. `drawn_sign` is the sign
/// of the determinant as drawn: the other sign means that the motion has gone through a dead point. A lane that has
/// arrived stands still while others go on, so that its result does not depend on its neighbours.
template <class T>
void close(const Context<T>& k, const Group& group, const T& drawn_sign, T& margin) {
  const int n = static_cast<int>(group.closures.size());
  T square(0.0), nearest(1e9);
  math::Truth<T> moving(true);
  for (int iteration = 0; iteration < newton_steps && math::any(moving); ++iteration) {
    run_positions(k, group);
    Matrix<T> matrix = sensitivities(k, group);
    Vector<T> step{};
    T widest(0.0);
    for (int i = 0; i < n; ++i) {
      step[index(i)] = -gap(k, group.closures[index(i)]);
      widest = math::max(widest, math::abs(step[index(i)]));
    }
    nearest = math::select(moving, math::min(nearest, widest), nearest);
    const T scale2 = scale_of(k, group, matrix);
    square = math::select(moving, signed_square(eliminate(matrix, step, n), scale2) * drawn_sign, square);
    math::Truth<T> far(false);
    for (int j = 0; j < n; ++j) {
      const T by = math::max(math::min(step[index(j)], T(greatest_step)), T(-greatest_step));
      Tear<T>& tear = k.state.tears[index(group.first_tear + j)];
      const Vec2<T> before = tear.at;
      advance(tear, by, spins(k, group, group.first_tear + j));
      tear.at = {math::select(moving, tear.at.x, before.x), math::select(moving, tear.at.y, before.y)};
      far = far | (math::abs(value(by)) > math::Plain<T>(last_step<T>));
    }
    moving = moving & far;
  }
  run_positions(k, group);
  T worst(0.0);
  for (const Closure& c : group.closures) worst = math::max(worst, math::abs(gap(k, c)));
  // Where nothing closes, the steps wander: the nearest that they came says how far it is from assembling.
  margin = math::select(worst < T(closed), square, -math::min(nearest, worst));
  rest(k, group);
}

/// Moves a group's tears from a seed to s by its rates: a second-order prediction.
template <class T>
void predict(const Context<T>& k, const Group& group, const Seed<T>& from) {
  const T ds = k.state.s - from.s;
  for (std::size_t j = 0; j < group.closures.size(); ++j) {
    const std::size_t t = index(group.first_tear) + j;
    Tear<T>& tear = k.state.tears[t];
    tear = from.tears[t];
    advance(tear, tear.rate * ds + tear.bend * ds * ds * T(0.5), spins(k, group, static_cast<int>(t)));
  }
}

/// One derivative of a whole group: `sweep` takes the steps with the tears' derivatives of that order as they stand in
/// `order`, `opening` says how fast a closure opens. The tears' own derivatives follow from one sweep with them at
/// zero and one with each at one, since the opening is linear in them.
template <class T, class Sweep, class Opening>
void keep_closed(const Context<T>& k, const Group& group, T Tear<T>::*order, Sweep sweep, Opening opening) {
  const std::size_t n = group.closures.size(), first = index(group.first_tear);
  const auto tear = [&](std::size_t j) -> T& { return k.state.tears[first + j].*order; };
  for (std::size_t j = 0; j < n; ++j) tear(j) = T(0.0);
  sweep(group);
  if (n == 0) return;
  Vector<T> open{}, solution{};
  for (std::size_t i = 0; i < n; ++i) open[i] = opening(group.closures[i]);
  Matrix<T> matrix{};
  for (std::size_t j = 0; j < n; ++j) {
    tear(j) = T(1.0);
    sweep(group);
    for (std::size_t i = 0; i < n; ++i) matrix[i][j] = opening(group.closures[i]) - open[i];
    tear(j) = T(0.0);
    solution[j] = -open[j];
  }
  eliminate(matrix, solution, static_cast<int>(n));
  for (std::size_t j = 0; j < n; ++j) tear(j) = solution[j];
  sweep(group);
}

}  // namespace trammel::linkage::blocks
