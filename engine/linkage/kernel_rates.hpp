// First and second derivatives of the steps behind kernel.hpp, one step kind after another.
#pragma once

#include "linkage/kernel_steps.hpp"

namespace trammel::linkage::steps {

/// n·v that the constraint prescribes, its placed parts moving as they do and s at the rate `drive`.
template <class T>
T normal_velocity(const Context<T>& k, const Constraint& c, const Vec2<T>& point, double drive) {
  if (c.rule == Rule::level) return T(drive);
  if (c.rule == Rule::line) {
    const Vec2<T> u = k.p(c.b) - k.p(c.a);
    const Vec2<T> du = k.v(c.b) - k.v(c.a);
    return cross(u, k.v(c.a)) - cross(du, point - k.p(c.a));
  }
  const T still = dot(point - k.p(c.a), k.v(c.a));
  return c.rule == Rule::shock ? still + k.length(c) * (k.shock_sign() * drive) : still;
}

/// n·a that the constraint prescribes; `v` is the point's velocity and s moves at a steady rate of 1.
template <class T>
T normal_acceleration(const Context<T>& k, const Constraint& c, const Vec2<T>& point, const Vec2<T>& v) {
  if (c.rule == Rule::level) return T(0.0);
  if (c.rule == Rule::line) {
    const Vec2<T> u = k.p(c.b) - k.p(c.a);
    const Vec2<T> du = k.v(c.b) - k.v(c.a);
    const Vec2<T> ddu = k.a(c.b) - k.a(c.a);
    return cross(u, k.a(c.a)) - T(2.0) * cross(du, v - k.v(c.a)) - cross(ddu, point - k.p(c.a));
  }
  const T still = dot(point - k.p(c.a), k.a(c.a)) - squared_norm(v - k.v(c.a));
  return c.rule == Rule::shock ? still + T(1.0) : still;
}

/// Solves n1·x = r1, n2·x = r2; `inverse` is 1/(n1 × n2).
template <class T>
Vec2<T> solve(const Vec2<T>& n1, const T& r1, const Vec2<T>& n2, const T& r2, const T& inverse) {
  const T by1 = r1 * inverse, by2 = r2 * inverse;
  return {by1 * n2.y - by2 * n1.y, by2 * n1.x - by1 * n2.x};
}

/// 1/x, kept finite at a dead point.
template <class T>
T guarded_inverse(const T& x) {
  return T(1.0) / select(x * x < T(1e-18), T(1e-9), x);
}

/// Velocity of the step's point when s moves at the rate `drive` (0 or 1) and tears at their rates.
template <class T>
void velocity(const Context<T>& k, const Step& step, double drive) {
  Vec2<T>& out = k.state.velocity[index(step.point)];
  const Vec2<T> at = k.p(step.point);
  switch (step.kind) {
    case StepKind::place:
      out = k.v(step.a) + turn(k.v(step.b) - k.v(step.a), local_of(k, step));
      break;
    case StepKind::meet: {
      const Vec2<T> n1 = normal(k, step.one, at), n2 = normal(k, step.two, at);
      const bool circles = !on_line(step.one) && !on_line(step.two);
      const T inverse = circles ? T(1.0) / k.kept(step.scratch) : guarded_inverse(cross(n1, n2));
      k.scratch(step.scratch + 1) = inverse;
      out = solve(n1, normal_velocity(k, step.one, at, drive), n2, normal_velocity(k, step.two, at, drive), inverse);
      break;
    }
    case StepKind::hinge: {
      const Hinge<T> hinge = hinge_of(k, step);
      const T inverse = guarded_inverse(dot(hinge.along, hinge.way));
      const T rate = cross(hinge.along, k.v(step.b) - k.v(step.a)) * inverse;
      k.scratch(step.scratch + 2) = rate;
      k.scratch(step.scratch + 3) = inverse;
      out = k.v(step.a) + perp(at - k.p(step.a)) * rate;
      break;
    }
    case StepKind::spin: {
      const T rate = step.tear >= 0 ? k.state.tears[index(step.tear)].rate : T(drive);
      out = k.v(step.a) + perp(at - k.p(step.a)) * rate;
      break;
    }
    case StepKind::slide: {
      const Tear<T>& tear = k.state.tears[index(step.tear)];
      const Vec2<T> u = k.p(step.b) - k.p(step.a), du = k.v(step.b) - k.v(step.a);
      out = k.v(step.a) + du * tear.at.x + perp(du) * k.constant(step.constant + 1) + u * tear.rate;
      break;
    }
  }
}

/// Acceleration of the step's point when s moves at a steady rate of 1 and tears bend as they do.
template <class T>
void acceleration(const Context<T>& k, const Step& step) {
  Vec2<T>& out = k.state.acceleration[index(step.point)];
  const Vec2<T> at = k.p(step.point), v = k.v(step.point);
  switch (step.kind) {
    case StepKind::place:
      out = k.a(step.a) + turn(k.a(step.b) - k.a(step.a), local_of(k, step));
      break;
    case StepKind::meet:
      out = solve(normal(k, step.one, at), normal_acceleration(k, step.one, at, v), normal(k, step.two, at),
                  normal_acceleration(k, step.two, at, v), k.kept(step.scratch + 1));
      break;
    case StepKind::hinge: {
      const Hinge<T> hinge = hinge_of(k, step);
      const T rate = k.scratch(step.scratch + 2);
      const Vec2<T> dway = k.v(step.b) - k.v(step.a), ddway = k.a(step.b) - k.a(step.a);
      const T turned_way = rate * cross(hinge.along, hinge.way) + T(2.0) * dot(hinge.along, dway);
      const T bend = (cross(hinge.along, ddway) - rate * turned_way) * k.scratch(step.scratch + 3);
      const Vec2<T> arm = at - k.p(step.a);
      out = k.a(step.a) + perp(arm) * bend - arm * (rate * rate);
      break;
    }
    case StepKind::spin: {
      const T rate = step.tear >= 0 ? k.state.tears[index(step.tear)].rate : T(1.0);
      const T bend = step.tear >= 0 ? k.state.tears[index(step.tear)].bend : T(0.0);
      const Vec2<T> arm = at - k.p(step.a);
      out = k.a(step.a) + perp(arm) * bend - arm * (rate * rate);
      break;
    }
    case StepKind::slide: {
      const Tear<T>& tear = k.state.tears[index(step.tear)];
      const Vec2<T> u = k.p(step.b) - k.p(step.a), du = k.v(step.b) - k.v(step.a);
      const Vec2<T> ddu = k.a(step.b) - k.a(step.a);
      out = k.a(step.a) + ddu * tear.at.x + perp(ddu) * k.constant(step.constant + 1) + du * (T(2.0) * tear.rate) +
            u * tear.bend;
      break;
    }
  }
}

}  // namespace trammel::linkage::steps
