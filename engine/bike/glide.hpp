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
        parts_(formulas.making.formula().results()),
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
    for (int i = 0; i < parts_; ++i) rise_.input(i) = stand_.input(i) = place_.input(i) = making_.result(i);
  }

  /// Wheel travel and its slope d travel/ds at driving coordinates.
  std::pair<P, P> rise(const P& s) {
    rise_.input(parts_) = s;
    rise_.run();
    return {rise_.result(0), rise_.result(1)};
  }

  /// Stands at driving coordinates; what can be asked there until the next time.
  void stand(const P& s) {
    stand_.input(parts_) = s;
    stand_.run();
  }
  const P& travel() const { return stand_.result(0); }
  const P& slope() const { return stand_.result(1); }
  const P& margin(std::size_t joint) const { return stand_.result(static_cast<int>(2 + joint)); }
  const P& distance2(std::size_t pair) const { return stand_.result(static_cast<int>(2 + margins_ + pair)); }

  /// Computes the curves at driving coordinates.
  void place(const P& s) {
    place_.input(parts_) = s;
    place_.run();
  }
  const P& place_travel() const { return place_.result(0); }
  /// The i-th of the curves that the formulas were made for.
  const P& curve(int i) const { return place_.result(1 + i); }

 private:
  std::size_t margins_;
  int parts_;
  math::FormulaRun<W> making_, rise_, stand_, place_;
};

}  // namespace trammel::bike
