// Forces in a linkage at rest: what every pivot, shoe and the drive carry for given outside forces.
//
// The way of the velocities taken backwards. A step of the assembly program gives a point the velocity that the parts
// placed before it allow; by virtual work (any mechanics text) a force on that point is then carried by the same parts,
// through the transposed matrix: first by those placed last, down to the frame and the drive. Members have no weight,
// pins no friction.
#pragma once

#include <vector>

#include "linkage/kernel_blocks.hpp"
#include "linkage/kernel_state.hpp"

namespace trammel::linkage {

/// What presses on a pin: a member by its number, or one of these.
inline constexpr int drive_part = -1;
inline int shoe_part(const Program& program, int slider) {
  return static_cast<int>(program.mechanism.members.size()) + slider;
}

/// Forces of one position. Sized by `resize`; nothing is allocated after that.
template <class T>
struct Forces {
  std::vector<Vec2<T>> outside;  ///< given, one a point: N, on the pin there
  std::vector<T> couples;        ///< given, one a member: N·mm, counter-clockwise; the frame's counts for nothing

  std::vector<Vec2<T>> carried;  ///< one a step: what all others press on its point, which the step's parts carry
  std::vector<T> closing;        ///< one a closure, in the order of the tears: multiple of its normal
  std::vector<Vec2<T>> at;       ///< one a point: what is still to be carried; at last that is what the frame takes
  /// What the drive must hold along its coordinate: the shock's force in N, positive in compression (in tension for one
  /// that extends); the force down at the driven point in N; the turning moment in N·mm, clockwise.
  T drive{};

  std::vector<Vec2<T>> before;  ///< `at` before a block
  std::vector<T> work;          ///< one a tear: work of the forces as it moves at rate 1

  /// Sets all that is given to nothing.
  void resize(const Program& program) {
    const std::size_t points = program.mechanism.points.size(), tears = static_cast<std::size_t>(program.tears);
    const Vec2<T> none{T(0.0), T(0.0)};
    outside.assign(points, none);
    couples.assign(program.mechanism.members.size(), T(0.0));
    carried.assign(program.steps.size(), none);
    closing.assign(tears, T(0.0));
    at.assign(points, none);
    before.assign(points, none);
    work.assign(tears, T(0.0));
  }
};

namespace steps {

/// A constraint that holds its point C back by `multiplier` times its normal. give(part, point, force) is told every
/// force that a part puts on a pin. Returns the work of what C presses with as s moves at rate 1.
template <class T, class Give>
T press(const View<T>& k, const Constraint& c, int point, const T& multiplier, Give give) {
  const Vec2<T> pull = normal(k, c, k.p(point)) * multiplier;
  if (c.rule == Rule::line) {
    // What the rail takes at the shoe, at two points of its member.
    const Vec2<T> levered = perp(k.p(point) - k.p(c.a)) * multiplier;
    const int rail = k.program.mechanism.sliders[index(c.part)].member;
    give(shoe_part(k.program, c.part), point, -pull);
    give(rail, c.a, pull - levered);
    give(rail, c.b, levered);
    return T(0.0);
  }
  const int part = c.rule == Rule::distance ? c.part : drive_part;
  give(part, point, -pull);
  if (c.rule == Rule::level) return multiplier;
  give(part, c.a, pull);
  return c.rule == Rule::shock ? multiplier * k.length(c) * k.shock_sign() : T(0.0);
}

/// A step whose point all others press on with `force`. Returns the work of that as its tear, or s, moves at rate 1.
template <class T, class Give>
T hand_on(const View<T>& k, const Step& step, const Vec2<T>& force, Give give) {
  const auto moment = [&] { return cross(k.p(step.point) - k.p(step.a), force); };
  switch (step.kind) {
    case StepKind::place: {
      const Vec2<T> levered = turn_back(force, local_of(k, step));
      give(step.part, step.point, -force);
      give(step.part, step.a, force - levered);
      give(step.part, step.b, levered);
      break;
    }
    case StepKind::meet: {
      const Vec2<T> n1 = normal(k, step.one, k.p(step.point)), n2 = normal(k, step.two, k.p(step.point));
      const T inverse = guarded_inverse(cross(n1, n2));
      return press(k, step.one, step.point, T(cross(force, n2) * inverse), give) +
             press(k, step.two, step.point, T(cross(n1, force) * inverse), give);
    }
    case StepKind::hinge: {
      const Hinge<T> hinge = hinge_of(k, step);
      const T inverse = guarded_inverse(dot(hinge.along, hinge.way));
      const Vec2<T> across = perp(hinge.along) * (moment() * inverse);
      const int member = k.program.mechanism.sliders[index(step.part)].member;
      give(member, step.point, -force);
      give(member, step.a, force - across);
      give(shoe_part(k.program, step.part), step.b, across);
      break;
    }
    case StepKind::spin:
      give(step.part, step.point, -force);
      give(step.part, step.a, force);
      return moment();
    case StepKind::slide: {
      const Vec2<T> levered =
          force * k.state.tears[index(step.tear)].at.x - perp(force) * k.constant(step.constant + 1);
      const int rail = k.program.mechanism.sliders[index(step.part)].member;
      give(shoe_part(k.program, step.part), step.point, -force);
      give(rail, step.a, force - levered);
      give(rail, step.b, levered);
      return dot(k.p(step.b) - k.p(step.a), force);
    }
  }
  return T(0.0);
}

/// A member that is turned by a couple presses with two forces.
template <class T, class Give>
void hand_on_couple(const View<T>& k, int member, const T& moment, Give give) {
  const Base& base = k.program.bases[index(member)];
  const Vec2<T> d = k.p(base.b) - k.p(base.a);
  const Vec2<T> levered = perp(d) * (moment / squared_norm(d));
  give(member, base.a, -levered);
  give(member, base.b, levered);
}

}  // namespace steps

namespace blocks {

/// Hands on what presses on a group's points. The closures press as much as it takes for the tears to stand still: what
/// they do to the tears is linear, so that one way back without them and one with each tells how much.
template <class T>
void balance_group(const steps::View<T>& k, const Group& group, Forces<T>& forces) {
  const std::size_t n = group.closures.size(), first = index(group.first_tear);
  const auto give = [&](int, int point, const Vec2<T>& force) { forces.at[index(point)] += force; };
  const auto sweep = [&](const Vector<T>& closing) {
    T drive(0.0);
    for (std::size_t i = 0; i < n; ++i)
      drive += steps::press(k, group.closures[i].rule, group.closures[i].point, closing[i], give);
    for (int i = group.last; i-- > group.first;) {
      const Step& step = k.program.steps[index(i)];
      Vec2<T>& carried = forces.carried[index(i)];
      carried = forces.at[index(step.point)];
      (step.tear >= 0 ? forces.work[index(step.tear)] : drive) += steps::hand_on(k, step, carried, give);
    }
    return drive;
  };
  Vector<T> closing{};
  if (n == 0) {
    forces.drive += sweep(closing);
    return;
  }
  forces.before = forces.at;
  const auto trial = [&](const Vector<T>& by) {
    forces.at = forces.before;
    for (std::size_t j = 0; j < n; ++j) forces.work[first + j] = T(0.0);
    return sweep(by);
  };
  trial(closing);
  Vector<T> solution{};
  for (std::size_t j = 0; j < n; ++j) solution[j] = -forces.work[first + j];
  Matrix<T> matrix{};
  for (std::size_t i = 0; i < n; ++i) {
    closing[i] = T(1.0);
    trial(closing);
    for (std::size_t j = 0; j < n; ++j) matrix[j][i] = forces.work[first + j] + solution[j];
    closing[i] = T(0.0);
  }
  eliminate(matrix, solution, static_cast<int>(n));
  forces.drive += trial(solution);
  for (std::size_t i = 0; i < n; ++i) forces.closing[first + i] = solution[i];
}

}  // namespace blocks

/// Balances the outside forces given at an assembled position. Near a dead point they grow without bound, but stay
/// finite.
template <class T>
void balance(const Program& program, const Geometry<T>& geometry, const State<T>& state, Forces<T>& forces) {
  const steps::View<T> k{program, geometry, state};
  forces.at = forces.outside;
  forces.drive = T(0.0);
  for (int m = 0; m < static_cast<int>(program.mechanism.members.size()); ++m)
    if (m != program.mechanism.frame)
      steps::hand_on_couple(k, m, forces.couples[steps::index(m)],
                            [&](int, int point, const Vec2<T>& force) { forces.at[steps::index(point)] += force; });
  for (std::size_t i = program.groups.size(); i-- > 0;) blocks::balance_group(k, program.groups[i], forces);
}

/// The force that a balanced linkage's pin puts on one of the parts that it joins, N, in the axes of the positions.
template <class T>
Vec2<T> pin_force(const Program& program, const Geometry<T>& geometry, const State<T>& state, const Forces<T>& forces,
                  int part, int point) {
  const steps::View<T> k{program, geometry, state};
  const Mechanism& m = program.mechanism;
  Vec2<T> sum{T(0.0), T(0.0)};
  if (part == m.frame) sum = forces.at[steps::index(point)];
  const auto give = [&](int of, int on, const Vec2<T>& force) {
    if (of == part && on == point) sum = sum - force;
  };
  const auto touches = [&](const Constraint& c, int at) { return at == point || c.a == point || c.b == point; };
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& s = program.steps[i];
    if (s.a == point || s.b == point || touches(s.one, s.point) || touches(s.two, s.point))
      steps::hand_on(k, s, forces.carried[i], give);
  }
  for (const Group& group : program.groups)
    for (std::size_t i = 0; i < group.closures.size(); ++i) {
      const Closure& c = group.closures[i];
      if (touches(c.rule, c.point))
        steps::press(k, c.rule, c.point, forces.closing[steps::index(group.first_tear) + i], give);
    }
  if (part >= 0 && part != m.frame && part < static_cast<int>(m.members.size()))
    steps::hand_on_couple(k, part, forces.couples[steps::index(part)], give);
  return sum;
}

/// Force of a rail on the point that slides on it, N, along perp(b − a) of its line.
template <class T>
T shoe_force(const Program& program, const Geometry<T>& geometry, const State<T>& state, const Forces<T>& forces,
             int slider) {
  const Slider& s = program.mechanism.sliders[steps::index(slider)];
  const Vec2<T> along = state.position[steps::index(s.along_b)] - state.position[steps::index(s.along_a)];
  const Vec2<T> taken = pin_force(program, geometry, state, forces, shoe_part(program, slider), s.point);
  return -cross(along, taken) / norm(along);
}

}  // namespace trammel::linkage
