// The motion by its tapes, numbers side by side: what a Sweep or a Spread finds, in the same digits and sooner, for
// linkages without blocks.
#pragma once

#include <algorithm>
#include <span>
#include <utility>
#include <vector>

#include "bike/motion_tapes.hpp"
#include "tape/executor.hpp"

namespace trammel::bike {

/// Per-task workspace; nothing is allocated after it is made. A lane is a layout, or a place of one layout.
template <int W>
class CompiledMotion {
 public:
  using P = math::Pack<W>;

  /// Whether it serves for a model.
  static bool serves(const Model& model) { return model.program.tears == 0; }

  CompiledMotion(const Model& model, const MotionTapes& tapes)
      : margins_(model.joints()),
        making_(tapes.making),
        rise_(tapes.rise),
        stand_(tapes.stand),
        move_(tapes.move),
        look_(tapes.look),
        moved_(static_cast<std::size_t>(tapes.look.program.coming())),
        motions_(moved_ * at_a_time) {}

  /// Takes a layout in each lane, by its points as drawn.
  void begin(const std::vector<Vec2<P>>& points) {
    int next = 0;
    for (const Vec2<P>& p : points) {
      making_.input(next++) = p.x;
      making_.input(next++) = p.y;
    }
    making_.run();
    rise_.take(making_);
    stand_.take(making_);
    move_.take(making_);
    look_.take(making_);
  }

  /// Wheel travel and its slope d travel/ds at driving coordinates.
  std::pair<P, P> rise(const P& s) {
    rise_.run.run(&s);
    return {rise_.run.result(0), rise_.run.result(1)};
  }

  /// Stands at driving coordinates; what can be asked there until the next time.
  void stand(const P& s) { stand_.run.run(&s); }
  const P& travel() const { return stand_.run.result(0); }
  const P& slope() const { return stand_.run.result(1); }
  const P& margin(std::size_t joint) const { return stand_.run.result(static_cast<int>(2 + joint)); }
  const P& distance2(std::size_t pair) const { return stand_.run.result(static_cast<int>(2 + margins_ + pair)); }

  /// Computes the curves at several driving coordinates; `take(i)` is called where those at s[i] can be asked for.
  template <class Take>
  void places(std::span<const P> s, Take take) {
    for (std::size_t first = 0; first < s.size(); first += at_a_time) {
      const std::size_t last = std::min(s.size(), first + at_a_time);
      for (std::size_t i = first; i < last; ++i) move_.run.run(&s[i], &motions_[(i - first) * moved_]);
      for (std::size_t i = first; i < last; ++i) {
        look_.run.run(&motions_[(i - first) * moved_]);
        take(i);
      }
    }
  }
  void place(const P& s) {
    places(std::span(&s, 1), [](std::size_t) {});
  }
  const P& place_travel() const { return look_.run.result(0); }
  /// The i-th of the curves that the tapes were made for.
  const P& curve(int i) const { return look_.run.result(1 + i); }

 private:
  /// Places whose motions are computed one after the other. More of them no longer stay in the first cache.
  static constexpr std::size_t at_a_time = 8;

  /// A tape that goes on from what has been made.
  struct Leg {
    explicit Leg(const Going& going) : takes(going.takes), run(going.program) {}

    void take(const tape::Executor<W>& making) {
      int next = 0;
      for (const int result : takes) run.input(next++) = making.result(result);
    }
    std::vector<int> takes;
    tape::Executor<W> run;
  };

  std::size_t margins_;
  tape::Executor<W> making_;
  Leg rise_, stand_, move_, look_;
  std::size_t moved_;  ///< numbers that a look reads of a motion
  std::vector<P> motions_;
};

}  // namespace trammel::bike
