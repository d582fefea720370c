// The ground under both wheels, in frame axes.
#pragma once

#include "bike/layout.hpp"
#include "math/vec2.hpp"

namespace trammel::bike {

using math::Vec2;

template <class T>
struct Ground {
  Vec2<T> along;                        ///< unit vector forward along the ground
  Vec2<T> normal;                       ///< unit vector up from the ground
  Vec2<T> rear_contact, front_contact;  ///< mm
  T wheelbase{};                        ///< distance of the contacts, mm
  Vec2<T> rear;                         ///< rear axle, mm
  double rear_radius = 0.0;             ///< mm

  /// Height of a point over the ground, mm.
  T height(const Vec2<T>& p) const { return dot(normal, p - rear) + T(rear_radius); }
};

/// The ground line touches both wheels from below: its direction is that of the axles' line turned down by
/// asin((Rf − Rr)/D). Axles in mm, radii in mm; the axles must lie farther apart than their radii differ.
template <class T>
Ground<T> find_ground(const Vec2<T>& rear, const Vec2<T>& front, double rear_radius, double front_radius) {
  const Vec2<T> d = front - rear;
  const T squared = squared_norm(d);
  const double difference = front_radius - rear_radius;
  const T wheelbase = math::sqrt(math::max(squared - T(difference * difference), T(1e-9)));
  Ground<T> ground;
  // d = along · (wheelbase + i·difference) as complex numbers; solved for `along`.
  const T inverse = T(1.0) / squared;
  ground.along = turn_back(d, Vec2<T>{wheelbase * inverse, T(difference) * inverse});
  ground.normal = perp(ground.along);
  ground.rear_contact = rear - ground.normal * T(rear_radius);
  ground.front_contact = front - ground.normal * T(front_radius);
  ground.wheelbase = wheelbase;
  ground.rear = rear;
  ground.rear_radius = rear_radius;
  return ground;
}

}  // namespace trammel::bike
