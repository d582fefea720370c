// The motion by its formulas, numbers side by side: what a Sweep or a Spread finds, in the same digits and sooner, for
// linkages without blocks.
#pragma once

#include <utility>
#include <vector>

#include "bike/motion_formulas.hpp"
#include "math/formula_run.hpp"

namespace trammel::bike {

/// Per-task workspace; nothing is allocated after it is made. A lane is a layout, or a place of one layout.
template <int W>
class Glide {
 public:
  using P = math::Pack<W>;

  /// Whether it serves for a model. In narrow registers formulas are no machine code, and the kernel is faster.
  static bool serves(const Model& model) { return math::native_lanes > 2 && model.program.tears == 0; }

  Glide(const Model& model, const MotionFormulas& formulas)
      : margins_(static_cast<std::size_t>(model.program.margins())),
        making_(formulas.making),
        rise_(formulas.rise),
        stand_(formulas.stand),
        place_(formulas.place) {}

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
    place_.take(making_);
  }

  /// Wheel travel and its slope d travel/ds at driving coordinates.
  std::pair<P, P> rise(const P& s) {
    rise_.go(s);
    return {rise_.run.result(0), rise_.run.result(1)};
  }

  /// Stands at driving coordinates; what can be asked there until the next time.
  void stand(const P& s) { stand_.go(s); }
  const P& travel() const { return stand_.run.result(0); }
  const P& slope() const { return stand_.run.result(1); }
  const P& margin(std::size_t joint) const { return stand_.run.result(static_cast<int>(2 + joint)); }
  const P& distance2(std::size_t pair) const { return stand_.run.result(static_cast<int>(2 + margins_ + pair)); }

  /// Computes the curves at driving coordinates.
  void place(const P& s) { place_.go(s); }
  const P& place_travel() const { return place_.run.result(0); }
  /// The i-th of the curves that the formulas were made for.
  const P& curve(int i) const { return place_.run.result(1 + i); }

 private:
  /// A formula that goes on from what has been made.
  struct Leg {
    explicit Leg(const Going& going) : takes(going.takes), run(going.program) {}

    void take(const math::FormulaRun<W>& making) {
      int next = 0;
      for (const int result : takes) run.input(next++) = making.result(result);
    }
    void go(const P& s) {
      run.input(static_cast<int>(takes.size())) = s;
      run.run();
    }

    std::vector<int> takes;
    math::FormulaRun<W> run;
  };

  std::size_t margins_;
  math::FormulaRun<W> making_;
  Leg rise_, stand_, place_;
};

}  // namespace trammel::bike
