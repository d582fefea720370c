// A single pivot with a direct shock in closed form, by the triangle pivot–eye–mount and the law of cosines: shares
// nothing with the kernel, which crosses circles.
#pragma once

#include <cmath>

#include "tests/support/bikes.hpp"

namespace trammel::test {

struct SinglePivot {
  linkage::Point pivot{10, 80}, axle{-435, 20}, eye{-60, 190}, mount{140, 230};
  double stroke = 55.0;

  bike::Layout layout() const {
    return bike_around(MechanismBuilder()
                           .point("main", pivot.x, pivot.y)
                           .point("axle", axle.x, axle.y)
                           .point("eye", eye.x, eye.y)
                           .point("mount", mount.x, mount.y)
                           .member("frame", {"main", "mount"})
                           .member("swingarm", {"main", "axle", "eye"})
                           .shock("mount", "eye", stroke)
                           .build());
  }

  double arm() const { return std::hypot(eye.x - pivot.x, eye.y - pivot.y); }       ///< pivot–eye
  double base() const { return std::hypot(mount.x - pivot.x, mount.y - pivot.y); }  ///< pivot–mount
  double drawn() const { return std::hypot(mount.x - eye.x, mount.y - eye.y); }     ///< shock, topped out
  double reach() const { return std::hypot(axle.x - pivot.x, axle.y - pivot.y); }   ///< pivot–axle
  double level() const { return std::atan2(axle.y - pivot.y, axle.x - pivot.x); }   ///< angle of the arm as drawn

  /// Angle at the pivot between eye and mount, at shock compression c.
  double opening(double c) const {
    const double length = drawn() - c;
    return std::acos((arm() * arm() + base() * base() - length * length) / (2.0 * arm() * base()));
  }
  /// How far the arm has turned; negative, as the wheel behind the pivot rises.
  double turn(double c) const { return opening(c) - opening(0.0); }
  double travel(double c) const { return reach() * (std::sin(level() + turn(c)) - std::sin(level())); }
  double whole() const { return travel(stroke); }
  double rearward(double c) const { return reach() * (std::cos(level()) - std::cos(level() + turn(c))); }

  /// dz/dc, by differentiating the law of cosines: d(opening)/dc = −length/(arm·base·sin(opening)).
  double leverage(double c) const {
    const double rate = -(drawn() - c) / (arm() * base() * std::sin(opening(c)));
    return reach() * std::cos(level() + turn(c)) * rate;
  }
  /// Shock compression at a wheel travel.
  double compression(double z) const {
    const double angle = -math::pi - std::asin(std::sin(level()) + z / reach());  // the arm points backwards
    const double open = opening(0.0) + angle - level();
    return drawn() - std::sqrt(arm() * arm() + base() * base() - 2.0 * arm() * base() * std::cos(open));
  }
  /// Sine of the angle at the eye between arm and shock, by the law of sines.
  double transmission_sine(double c) const { return base() * std::sin(opening(c)) / (drawn() - c); }
};

}  // namespace trammel::test
