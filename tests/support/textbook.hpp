// Plane geometry with angles and the cosine rule, as a textbook draws a linkage: independent of the kernel, which has
// neither.
#pragma once

#include <cmath>
#include <string>

#include "tests/support/builder.hpp"

namespace trammel::test {

using math::Vec2;

inline Vec2<double> polar(double length, double degrees) {
  return math::unit(math::radians(degrees)) * length;
}
inline double degrees_of(const Vec2<double>& from, const Vec2<double>& to) {
  return math::degrees(std::atan2(to.y - from.y, to.x - from.x));
}
/// `angle` plus whole turns, nearest to `reference`; degrees.
inline double near(double angle, double reference) {
  return reference + std::remainder(angle - reference, 360.0);
}

/// The point at `ra` from a and `rb` from b; `side` +1 lies to the left of a → b.
inline Vec2<double> dyad(const Vec2<double>& a, double ra, const Vec2<double>& b, double rb, double side) {
  const double d = std::hypot(b.x - a.x, b.y - a.y);
  const double angle = std::acos((ra * ra + d * d - rb * rb) / (2.0 * ra * d));
  return a + polar(ra, degrees_of(a, b) + side * math::degrees(angle));
}

/// A four-bar in textbook form: O2 at the origin, O4 at (d, 0), crank a to A, coupler b from A to B, rocker c to B,
/// drawn with the crank at `degrees`; `side` +1 for B left of A → O4 (the open branch). Members: frame, crank,
/// coupler, rocker; driven by the crank.
struct FourBar {
  double a = 0, b = 0, c = 0, d = 0;

  Vec2<double> crank_pin(double degrees) const { return polar(a, degrees); }
  Vec2<double> rocker_pin(double degrees, double side) const { return dyad(crank_pin(degrees), b, {d, 0.0}, c, side); }
  MechanismBuilder drawn(double degrees, double side) const {
    const Vec2<double> pin = crank_pin(degrees), end = rocker_pin(degrees, side);
    return MechanismBuilder()
        .point("O2", 0, 0)
        .point("O4", d, 0)
        .point("A", pin.x, pin.y)
        .point("B", end.x, end.y)
        .member("frame", {"O2", "O4"})
        .member("crank", {"O2", "A"})
        .member("coupler", {"A", "B"})
        .member("rocker", {"O4", "B"})
        .turn("crank", 2.0 * math::pi);
  }
};

}  // namespace trammel::test
