// Runs an assembly program: positions, then first and second derivatives with respect to the driving coordinate s.
//
// Vector-loop kinematics after Norton, Design of Machinery, ch. 4 (position), 6 (velocity), 7 (acceleration), written
// with complex ratios and cross products instead of angles. Everything is a template over the number type; nothing
// branches on data. A position that does not assemble is clamped to the nearest one that does, and its margin says by
// how much it failed, so that results stay finite and the failure is graded.
#pragma once

#include <vector>

#include "linkage/kernel_blocks.hpp"
#include "linkage/kernel_drawn.hpp"
#include "linkage/kernel_state.hpp"

namespace trammel::linkage {

/// Lengths, ratios and branches of a layout whose points are given as drawn. `state` is room to work in.
template <class T>
void measure(const Program& program, const std::vector<Vec2<T>>& points, Geometry<T>& geometry, State<T>& state);

/// Positions at s. `from` starts the blocks (a position near by on the same branch); null starts from the drawn one.
template <class T>
void assemble(const Program& program, const Geometry<T>& geometry, const T& s, const Seed<T>* from, State<T>& state);

/// Velocities of the assembled position.
template <class T>
void velocities(const Program& program, const Geometry<T>& geometry, State<T>& state);

/// Accelerations; needs velocities.
template <class T>
void accelerations(const Program& program, const Geometry<T>& geometry, State<T>& state);

/// Turning rate of a member, radians per unit of s; 0 for the frame.
template <class T>
T turning_rate(const Program& program, const Geometry<T>& geometry, int member, const State<T>& state) {
  if (member == program.mechanism.frame) return T(0.0);
  const Base& base = program.bases[static_cast<std::size_t>(member)];
  const auto a = static_cast<std::size_t>(base.a), b = static_cast<std::size_t>(base.b);
  const Vec2<T> d = state.position[b] - state.position[a];
  return cross(d, state.velocity[b] - state.velocity[a]) * geometry.inverse_bases2[static_cast<std::size_t>(member)];
}

template <class T>
void measure(const Program& program, const std::vector<Vec2<T>>& points, Geometry<T>& geometry, State<T>& state) {
  geometry.points = points;
  // A block adds one constant of its own: the sign of its determinant as drawn.
  geometry.constants.resize(blocks::index(program.constants) + program.groups.size());
  for (const Step& s : program.steps) blocks::measure_step(points, s, geometry.constants);
  geometry.inverse_bases2.assign(program.bases.size(), T(0.0));
  for (std::size_t m = 0; m < program.bases.size(); ++m) {
    const Base& base = program.bases[m];
    if (base.a >= 0)
      geometry.inverse_bases2[m] = T(1.0) / squared_norm(points[blocks::index(base.b)] - points[blocks::index(base.a)]);
  }
  for (const Group& g : program.groups)
    for (const Closure& c : g.closures)
      geometry.constants[blocks::index(c.rule.constant)] = blocks::drawn_constant(points, c.rule, c.point);
  if (program.tears == 0) return;
  state.s = T(0.0);
  state.position = points;
  for (Vec2<T>& v : state.velocity) v = {T(0.0), T(0.0)};
  blocks::drawn_tears(program, geometry, state);
  const blocks::Context<T> k{program, geometry, state};
  for (std::size_t i = 0; i < program.groups.size(); ++i) {
    const Group& g = program.groups[i];
    if (g.closures.empty()) continue;
    blocks::run_positions(k, g);
    blocks::Matrix<T> matrix = blocks::sensitivities(k, g);
    blocks::Vector<T> none{};
    const T determinant = blocks::eliminate(matrix, none, static_cast<int>(g.closures.size()));
    geometry.constants[blocks::index(program.constants) + i] = math::lift<T>(blocks::sign_of(value(determinant)));
    blocks::rest(k, g);
  }
}

template <class T>
void assemble(const Program& program, const Geometry<T>& geometry, const T& s, const Seed<T>* from, State<T>& state) {
  state.s = s;
  for (int p : program.mechanism.members[blocks::index(program.mechanism.frame)].points)
    state.position[blocks::index(p)] = geometry.points[blocks::index(p)];
  const blocks::Context<T> k{program, geometry, state};
  if (program.tears > 0) {
    for (Vec2<T>& v : state.velocity) v = {T(0.0), T(0.0)};
    if (from == nullptr) blocks::drawn_tears(program, geometry, state);
  }
  std::size_t joint = program.steps.size();
  for (std::size_t i = 0; i < program.groups.size(); ++i) {
    const Group& g = program.groups[i];
    if (g.closures.empty()) {
      blocks::run_positions(k, g);
      continue;
    }
    if (from != nullptr) blocks::predict(k, g, *from);
    blocks::close(k, g, geometry.constants[blocks::index(program.constants) + i], state.margin[joint++]);
  }
}

template <class T>
void velocities(const Program& program, const Geometry<T>& geometry, State<T>& state) {
  const blocks::Context<T> k{program, geometry, state};
  const auto sweep = [&](const Group& g) {
    for (int i = g.first; i < g.last; ++i) steps::velocity(k, program.steps[blocks::index(i)], 1.0);
  };
  const auto opening = [&](const Closure& c) { return blocks::gap_rate(k, c, 1.0); };
  for (const Group& g : program.groups) blocks::keep_closed(k, g, &Tear<T>::rate, sweep, opening);
}

template <class T>
void accelerations(const Program& program, const Geometry<T>& geometry, State<T>& state) {
  const blocks::Context<T> k{program, geometry, state};
  const auto sweep = [&](const Group& g) {
    for (int i = g.first; i < g.last; ++i) steps::acceleration(k, program.steps[blocks::index(i)]);
  };
  const auto opening = [&](const Closure& c) { return blocks::gap_bend(k, c); };
  for (const Group& g : program.groups) blocks::keep_closed(k, g, &Tear<T>::bend, sweep, opening);
}

}  // namespace trammel::linkage
