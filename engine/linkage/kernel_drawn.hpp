// What the kernel measures of the points as drawn: the constants of each step, and where the tears are.
#pragma once

#include "linkage/kernel_steps.hpp"

namespace trammel::linkage::blocks {

using steps::index;

template <class T>
T drawn_constant(const std::vector<Vec2<T>>& p, const Constraint& c, int point) {
  const Vec2<T>& at = p[index(point)];
  if (c.rule == Rule::level) return at.y;
  const Vec2<T> w = at - p[index(c.a)];
  if (c.rule == Rule::line) return cross(p[index(c.b)] - p[index(c.a)], w);
  return c.rule == Rule::shock ? norm(w) : squared_norm(w);
}

template <class T>
T sign_of(const T& x) {
  return math::select(x < T(0.0), T(-1.0), T(1.0));
}

/// Which of two crossings was drawn, ±1.
template <class T>
T drawn_branch(const std::vector<Vec2<T>>& p, const Step& s) {
  const auto drawn = [&](int i) { return value(p[index(i)]); };
  using Plain = math::Plain<T>;
  const Vec2<Plain> at = drawn(s.point);
  const bool line_one = steps::on_line(s.one), line_two = steps::on_line(s.two);
  Plain side(1.0);
  if (!line_one && !line_two) side = cross(drawn(s.two.a) - drawn(s.one.a), at - drawn(s.one.a));
  if (line_one != line_two) {
    const Constraint& line = line_one ? s.one : s.two;
    const Constraint& circle = line_one ? s.two : s.one;
    const Vec2<Plain> along =
        line.rule == Rule::level ? Vec2<Plain>{Plain(1.0), Plain(0.0)} : drawn(line.b) - drawn(line.a);
    side = dot(along, at - drawn(circle.a));
  }
  return math::lift<T>(sign_of(side));
}

template <class T>
void measure_step(const std::vector<Vec2<T>>& p, const Step& s, std::vector<T>& constants) {
  const auto put = [&](int offset, const T& x) { constants[index(s.constant + offset)] = x; };
  const auto put_vector = [&](int offset, const Vec2<T>& x) {
    put(offset, x.x);
    put(offset + 1, x.y);
  };
  switch (s.kind) {
    case StepKind::place: {
      const Vec2<T> base = p[index(s.b)] - p[index(s.a)];
      put_vector(0, turn_back(p[index(s.point)] - p[index(s.a)], base) * (T(1.0) / squared_norm(base)));
      break;
    }
    case StepKind::meet:
      constants[index(s.one.constant)] = drawn_constant(p, s.one, s.point);
      constants[index(s.two.constant)] = drawn_constant(p, s.two, s.point);
      put(0, drawn_branch(p, s));
      break;
    case StepKind::hinge: {
      const Vec2<T> along = p[index(s.line_b)] - p[index(s.line_a)];
      const Vec2<T> way = p[index(s.b)] - p[index(s.a)];
      put_vector(0, along);
      put_vector(2, p[index(s.point)] - p[index(s.a)]);
      put(4, cross(along, way));
      put(5, squared_norm(along));
      put(6, sign_of(dot(along, way)));
      break;
    }
    case StepKind::spin:
      put_vector(0, p[index(s.point)] - p[index(s.a)]);
      break;
    case StepKind::slide: {
      const Vec2<T> u = p[index(s.b)] - p[index(s.a)], w = p[index(s.point)] - p[index(s.a)];
      put_vector(0, Vec2<T>{dot(u, w), cross(u, w)} * (T(1.0) / squared_norm(u)));
      break;
    }
  }
}

/// The tears as drawn.
template <class T>
void drawn_tears(const Program& program, const Geometry<T>& geometry, State<T>& state) {
  for (const Step& s : program.steps) {
    if (s.tear < 0) continue;
    Tear<T>& tear = state.tears[index(s.tear)];
    tear.rate = tear.bend = T(0.0);
    tear.at =
        s.kind == StepKind::spin ? Vec2<T>{T(1.0), T(0.0)} : Vec2<T>{geometry.constants[index(s.constant)], T(0.0)};
  }
}

}  // namespace trammel::linkage::blocks
