// The motion of a bike written down as tapes, once for all layouts of a model: what derivatives are taken of.
//
// All that a position is made from are the *parts*: lengths, ratios and fixed points of the linkage, what the curves
// count from, and the whole travel. One tape makes them from the points as drawn; others go on from them to the
// curves at a place, and to what the rules watch at a station.
//
// The places hold already, so by the implicit function theorem one more solution of the same equations gives the
// derivatives of a position at a fixed driving coordinate. A place that is fixed by the wheel's travel moves along the
// stroke as the design changes: by ds = (travel wanted − travel)/slope, to first order in the velocities and
// accelerations that are known there.
#pragma once

#include "bike/room.hpp"
#include "bike/separation.hpp"
#include "bike/station.hpp"
#include "tape/compiled_tape.hpp"
#include "tape/partial_evaluation.hpp"

namespace trammel::bike {

/// What the positions and curves of a layout are made from.
template <class T>
struct Parts {
  linkage::Geometry<T> geometry;
  ToppedOut<T> ref;
  T whole{};                     ///< whole wheel travel, mm
  T forks{};                     ///< see fork_rate
  std::vector<Vec2<T>> carried;  ///< see Room::measure

  /// Calls take(x) for every number, always in the same order.
  template <class Take>
  void each(const Model& model, Take take) {
    const auto both = [&](Vec2<T>& v) {
      take(v.x);
      take(v.y);
    };
    const linkage::Mechanism& mechanism = model.program.mechanism;
    for (int p : mechanism.members[static_cast<std::size_t>(mechanism.frame)].points)
      both(geometry.points[static_cast<std::size_t>(p)]);
    for (T& x : geometry.constants) take(x);
    take(geometry.inverse_bases2[static_cast<std::size_t>(model.layout.axle.member)]);
    take(geometry.inverse_bases2[static_cast<std::size_t>(model.layout.brake_member)]);
    both(ref.axle);
    both(ref.cg);
    if (model.has_shock()) both(ref.shock);
    if (model.layout.drivetrain.roller) both(ref.roller);
    take(ref.chainstay);
    const std::size_t spans = model.layout.drivetrain.idler ? 2 : 1;
    for (ChainRun<T>& run : ref.runs)
      for (std::size_t i = 0; i < spans; ++i) {
        both(run.spans[i].along);
        take(run.spans[i].length);
      }
    take(whole);
    take(forks);
    for (Vec2<T>& ratio : carried) both(ratio);
  }
};

/// A tape that goes on from what has been made: its first inputs are results of `MotionTapes::making`.
struct Going {
  explicit Going(const tape::Residual& rest)
      : takes(rest.takes), program(rest.tape, rest.tape.inputs() - static_cast<int>(rest.takes.size())) {}

  std::vector<int> takes;  ///< which ones
  tape::CompiledTape program;
};

class MotionTapes {
 public:
  /// `curves` are those that will be asked for; `apart` the distances that are, `room` the bodies'. Neither model
  /// nor room need outlive it.
  MotionTapes(const Model& model, const std::vector<CurveKey>& curves, const std::vector<Separation>& apart,
              const Room& room = {});

  int parts;  ///< how many numbers they are
  /// In: all points (x, y), then the tears topped out and bottomed (at.x, at.y, rate, bend each). Out: the parts, then
  /// what else the motion takes that is the same in all positions.
  tape::CompiledTape making;

  // Of a linkage without blocks, the motion itself. In: what it takes, s.
  Going rise;   ///< out: the wheel's travel and its slope d travel/ds
  Going stand;  ///< out: the same two, the margins (those of the chain's spans last), the squared distances
  // Two steps to the curves at a place: first the linkage moves, then what is asked for is computed from where its
  // points are and how they move. A first step is one long chain in which each number waits for the one before; several
  // places' chains run at a time when they come one after the other.
  Going move;  ///< out: what the second step reads of it
  Going look;  ///< in: what it takes, what `move` gives; out: travel, the curves

  // The derivatives of tapes (tape::adjoint): of what makes the parts, and of two that go on from them.
  tape::CompiledTape making_to_follow;  ///< in: as `making`. Out: the parts, then what the next one takes
  tape::CompiledTape making_slopes;     ///< in: a weight for each part, what it takes
  // Of the way to a place. In: the parts, s, the tears there; then of a place fixed by travel 1, factor and offset (see
  // Locus), of any other three zeros. Out: the curves. Of `stand`. In: the parts, s and the tears there. Out: the
  // margins, the squared distances, the slope, what the room measures.
  tape::CompiledTape place_slopes, stand_slopes;

 private:
  struct Noted;
  MotionTapes(const Model& model, const std::vector<CurveKey>& curves, const std::vector<Separation>& apart,
              const Room& room, const Noted& noted);
};

}  // namespace trammel::bike
