// A four-bar rear suspension with the axle on the coupler, written out by hand for this one linkage.
//
// It shares no code with the engine: no assembly program, no members, no general number type's functions. Written from
// the vector loop main–stay–tail–rocker and the triangle rocker–eye–mount, with plane vectors as complex numbers, so
// that a rigid body is a constant complex ratio and no angle appears. It serves twice: tests hold the engine against
// it, and the benchmark takes it for what a specialist's program for one linkage costs.
//
// Every curve but the chain's turning is + − × ÷ √ of the points. Units: mm, radians, %; velocities per mm of shock.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <type_traits>

namespace by_hand {

template <class T>
struct Complex {
  T re{}, im{};
  friend Complex operator+(const Complex& a, const Complex& b) { return {a.re + b.re, a.im + b.im}; }
  friend Complex operator-(const Complex& a, const Complex& b) { return {a.re - b.re, a.im - b.im}; }
  friend Complex operator*(const Complex& a, const Complex& b) {
    return {a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re};
  }
  friend Complex operator*(const T& k, const Complex& a) { return {k * a.re, k * a.im}; }
};

/// Scalar product.
template <class T>
T inner(const Complex<T>& a, const Complex<T>& b) {
  return a.re * b.re + a.im * b.im;
}
/// Vector product; positive when b lies counter-clockwise of a.
template <class T>
T outer(const Complex<T>& a, const Complex<T>& b) {
  return a.re * b.im - a.im * b.re;
}
template <class T>
Complex<T> ratio(const Complex<T>& a, const Complex<T>& b) {
  const T inverse = T(1.0) / inner(b, b);
  return {inner(a, b) * inverse, outer(b, a) * inverse};
}

/// What stays the same while the pivots move.
template <std::size_t Gears>
struct Bike {
  double rear_radius, front_radius;
  double front_x, front_y;              ///< front axle topped out
  double steer_x, steer_y;              ///< unit vector up the steering axis
  double fork_travel;                   ///< used in proportion to the wheel travel
  double cg_x, cg_height;               ///< height over the ground, topped out; fixed to the frame
  double stroke;                        ///< of the shock
  std::array<double, Gears> cog, ring;  ///< pitch radii
};

/// The pivots topped out. The caliper sits on the coupler.
template <class T>
struct Pivots {
  Complex<T> main, stay, axle, tail, rocker, eye, mount;
};

template <class T, std::size_t Stations, std::size_t Gears>
struct Curves {
  std::array<T, Stations> travel, leverage, axle_x, axle_y, anti_rise;
  std::array<std::array<T, Stations>, Gears> anti_squat, chain_growth;
};

namespace detail {

/// arcsin of the small angle between neighbouring stations, by its series: below 1e-16 of error up to 0.05 rad.
template <class T>
T small_arcsin(const T& x) {
  const T q = x * x;
  return x * (T(1.0) + q * (T(1.0 / 6.0) + q * (T(3.0 / 40.0) + q * (T(15.0 / 336.0) + q * T(105.0 / 3456.0)))));
}

/// `yes` where a comparison holds; of numbers side by side, lane by lane by their own `select`.
template <class M, class T>
T choose(const M& condition, const T& yes, const T& no) {
  if constexpr (std::is_same_v<M, bool>)
    return condition ? yes : no;
  else
    return select(condition, yes, no);
}

/// √ of a radicand that rounding may leave below zero.
template <class T>
T root(const T& x) {
  using std::sqrt;
  return sqrt(choose(x < T(0.0), T(0.0), x));
}

/// The loop's constants and its motion.
template <class T>
class Loop {
 public:
  explicit Loop(const Pivots<T>& p) : p_(p) {
    const Complex<T> base = p.mount - p.rocker, arm = p.eye - p.rocker, shock = p.mount - p.eye;
    const Complex<T> upper = p.tail - p.rocker, lower = p.stay - p.main, coupler = p.tail - p.stay;
    length_ = root(inner(shock, shock));
    inverse_base2_ = T(1.0) / inner(base, base);
    arm_ratio2_ = inner(arm, arm) * inverse_base2_;
    tail_arm_ = base * ratio(upper, arm);
    eye_side_ = choose(outer(base, arm) < T(0.0), T(-1.0), T(1.0));
    lower2_ = inner(lower, lower);
    lower_less_coupler_ = lower2_ - inner(coupler, coupler);
    stay_side_ = choose(outer(p.tail - p.main, lower) < T(0.0), T(-1.0), T(1.0));
    axle_ratio_ = ratio(p.axle - p.stay, coupler);
  }

  struct Position {
    Complex<T> axle, velocity;
    T coupler_rate;
  };

  /// At a shock compression in mm.
  Position at(double compression) const {
    // Eye where the circles about rocker pivot and mount cross, as multiples of their centre line: along + i·across.
    const T shock = length_ - T(compression);
    const T along = T(0.5) * (T(1.0) + arm_ratio2_ - shock * shock * inverse_base2_);
    const T across = eye_side_ * root(arm_ratio2_ - along * along);
    const Complex<T> upper = tail_arm_ * Complex<T>{along, across};

    // Stay where the circles about main and tail cross.
    const Complex<T> reach = p_.rocker + upper - p_.main;
    const T reach2 = inner(reach, reach);
    const T inverse = T(1.0) / reach2;
    const T on = T(0.5) * (T(1.0) + lower_less_coupler_ * inverse);
    const T off = stay_side_ * root(lower2_ * inverse - on * on);
    const Complex<T> lower = reach * Complex<T>{on, off};
    const Complex<T> coupler = reach - lower;
    const Complex<T> to_axle = coupler * axle_ratio_;

    // d(along + i·across) = −i·(d along/across)·(along + i·across): the rocker turns by −d along/across, and
    // d along/dc = shock/base². The coupler keeps its length, so tail and stay move alike along it; the vector product
    // of lower link and coupler is −reach²·off.
    const T scale = shock * inverse_base2_ / (across * reach2 * off);
    const T lower_rate = scale * outer(upper, coupler);
    const T coupler_rate = scale * outer(lower, upper);
    const Complex<T> swept = lower_rate * lower + coupler_rate * to_axle;
    return {p_.main + lower + to_axle, {T(0.0) - swept.im, swept.re}, coupler_rate};
  }

 private:
  Pivots<T> p_;
  T length_, inverse_base2_, arm_ratio2_, eye_side_, lower2_, lower_less_coupler_, stay_side_;
  Complex<T> tail_arm_, axle_ratio_;
};

}  // namespace detail

/// All curves at even stations of the stroke, both ends included. The layout must assemble all the way; the chain's
/// direction must turn by less than 0.05 rad between stations.
template <std::size_t Stations, class T, std::size_t Gears>
void sweep(const Bike<Gears>& bike, const Pivots<T>& pivots, Curves<T, Stations, Gears>& out) {
  const detail::Loop<T> loop(pivots);
  std::array<typename detail::Loop<T>::Position, Stations> positions;
  for (std::size_t i = 0; i < Stations; ++i)
    positions[i] = loop.at(bike.stroke * static_cast<double>(i) / static_cast<double>(Stations - 1));

  const Complex<T> drawn = positions[0].axle;
  const T fork_rate = T(bike.fork_travel) / (positions[Stations - 1].axle.im - drawn.im);
  const T difference(bike.front_radius - bike.rear_radius), squared(difference * difference);
  T cg_y(0.0);
  std::array<Complex<T>, Gears> before;
  std::array<T, Gears> span0, turned;
  for (std::size_t i = 0; i < Stations; ++i) {
    const Complex<T>&axle = positions[i].axle, &v = positions[i].velocity;
    const T travel = axle.im - drawn.im, fork = fork_rate * travel;
    out.travel[i] = travel;
    out.leverage[i] = v.im;
    out.axle_x[i] = axle.re;
    out.axle_y[i] = axle.im;

    // Ground: the axles' line turned down by asin((Rf − Rr)/D).
    const Complex<T> axles{T(bike.front_x) + fork * T(bike.steer_x) - axle.re,
                           T(bike.front_y) + fork * T(bike.steer_y) - axle.im};
    const T apart2 = inner(axles, axles), wheelbase = detail::root(apart2 - squared), inverse = T(1.0) / apart2;
    const T tx = (axles.re * wheelbase + axles.im * difference) * inverse;
    const T ty = (axles.im * wheelbase - axles.re * difference) * inverse;
    if (i == 0) cg_y = axle.im + (T(bike.cg_height - bike.rear_radius) + ty * (T(bike.cg_x) - axle.re)) / tx;
    const T height = (cg_y - axle.im) * tx - (T(bike.cg_x) - axle.re) * ty + T(bike.rear_radius);

    // The contact point moves along the ground by what the axle does and what the wheel rolls, at right angles to it by
    // what the axle does; the force line is at right angles to that.
    const T forward = v.re * tx + v.im * ty, up = v.im * tx - v.re * ty;
    const T per_speed = T(-100.0) * wheelbase / (up * height);
    out.anti_rise[i] = per_speed * (forward + positions[i].coupler_rate * T(bike.rear_radius));

    // Chain: the tangent of cog and ring, seen from the cog; the ring stands on the origin.
    const T stay2 = inner(axle, axle), inverse_stay2 = T(1.0) / stay2;
    const Complex<T> to_ring{T(0.0) - axle.re, T(0.0) - axle.im};
    for (std::size_t g = 0; g < Gears; ++g) {
      const T step(bike.cog[g] - bike.ring[g]);
      const T span = detail::root(stay2 - step * step);
      const Complex<T> along{(to_ring.re * span + to_ring.im * step) * inverse_stay2,
                             (to_ring.im * span - to_ring.re * step) * inverse_stay2};
      const T rolled = inner(along, v) * T(bike.rear_radius / bike.cog[g]);
      out.anti_squat[g][i] = per_speed * (forward + rolled);
      if (i == 0) {
        span0[g] = span;
        turned[g] = T(0.0);
      } else {
        turned[g] = turned[g] + detail::small_arcsin(outer(before[g], along));
      }
      before[g] = along;
      out.chain_growth[g][i] = span - span0[g] - step * turned[g];
    }
  }
}

}  // namespace by_hand
