// Anti-squat and anti-rise by one rule.
#pragma once

#include "bike/ground.hpp"

namespace trammel::bike {

/// What decides the shares at one place, whatever locks the wheel.
template <class T>
struct LoadTransfer {
  T forward{};  ///< speed of the axle along the ground
  T scale{};    ///< % per speed of the tyre's material point along the ground
};

/// Share of the longitudinal load transfer that the linkage balances, in %.
///
/// The wheel turns against the frame while something locks it (the chain on a held crank, or the caliper on its
/// member); the tyre's material point at the ground then moves with v: up as the axle does, and along the ground by
/// `rolled` more, which is the rate of the turning times the wheel's radius. A force through the contact that does no
/// work on the suspension stands at right angles to v, so it rises by tan σ = −(v·t)/(v·n); load transfer rises by tan
/// τ = h/L; the share is 100·tan σ/tan τ. It equals 100/R of the squat ratio R = tan τ/tan σ in Cossalter, Motorcycle
/// Dynamics, 2nd ed. (2006), ch. 6 (from memory).
template <class T>
T anti_share(const LoadTransfer<T>& transfer, const T& rolled) {
  return transfer.scale * (transfer.forward + rolled);
}

/// `axle_velocity` in frame axes, per any unit that what is rolled is per, too; `cg_height` in mm, > 0.
template <class T>
LoadTransfer<T> load_transfer(const Ground<T>& ground, const Vec2<T>& axle_velocity, const T& cg_height) {
  const T rise = dot(axle_velocity, ground.normal);
  // At a place where the axle moves along the ground the force line is level and the share has no finite value.
  const T guarded = math::select(rise * rise < T(1e-18), T(1e-9), rise);
  return {dot(axle_velocity, ground.along), T(-100.0) * ground.wheelbase / (guarded * cg_height)};
}

}  // namespace trammel::bike
