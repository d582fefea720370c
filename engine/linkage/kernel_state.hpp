// The kernel's data: what is constant for a layout, and where a motion has come to.
#pragma once

#include <vector>

#include "linkage/program.hpp"
#include "math/vec2.hpp"

namespace trammel::linkage {

// The number functions of a plain double, which argument-dependent lookup does not find.
using math::abs;
using math::sqrt;
using math::value;

/// What of a layout does not change as it moves: lengths, shape ratios, branches.
template <class T>
struct Geometry {
  std::vector<Vec2<T>> points;  ///< as drawn
  std::vector<T> constants;
  std::vector<T> inverse_bases2;  ///< one a member: 1/|b − a|² of its base, 1/mm²; 0 without one
};

/// The unknown of a block: a unit vector (the turn of a spinning member since topped out), or x = place on a line.
template <class T>
struct Tear {
  Vec2<T> at;
  T rate{};  ///< d/ds of the angle, or of the place
  T bend{};  ///< second derivative
};

/// Where a motion has come to; the start of the next position of a linkage with blocks.
template <class T>
struct Seed {
  T s{};
  std::vector<Tear<T>> tears;
};

/// A position with its derivatives. Sized by `resize`; nothing is allocated after that.
template <class T>
struct State {
  T s{};
  std::vector<Vec2<T>> position;      ///< mm
  std::vector<Vec2<T>> velocity;      ///< d/ds
  std::vector<Vec2<T>> acceleration;  ///< d²/ds²
  /// One a joint (Program::joints): sin² of the transmission angle there; ≤ 0 where it does not assemble, growing
  /// more negative the farther it is from assembling.
  std::vector<T> margin;
  std::vector<Tear<T>> tears;
  std::vector<T> scratch;

  void resize(const Program& program);
};

template <class T>
void State<T>::resize(const Program& program) {
  const std::size_t n = program.mechanism.points.size();
  const Vec2<T> zero{T(0.0), T(0.0)};
  position.assign(n, zero);
  velocity.assign(n, zero);
  acceleration.assign(n, zero);
  margin.assign(static_cast<std::size_t>(program.margins()), T(1.0));
  tears.assign(static_cast<std::size_t>(program.tears), Tear<T>{});
  scratch.assign(static_cast<std::size_t>(program.scratch), T(0.0));
}

}  // namespace trammel::linkage
