// Every curve at one position.
#pragma once

#include "bike/anti.hpp"
#include "bike/chain_room.hpp"
#include "bike/station_values.hpp"
#include "bike/wheel_load.hpp"

namespace trammel::bike {

namespace detail {

/// Of what leads the chain, an idler or a roller, if there is one.
template <class T>
const Vec2<T>& lead_vector(const std::optional<Idler>& lead, const std::vector<Vec2<T>>& list, const Vec2<T>& none) {
  return lead ? list[static_cast<std::size_t>(lead->point)] : none;
}
template <class T>
const Vec2<T>& idler_vector(const Model& m, const std::vector<Vec2<T>>& list, const Vec2<T>& none) {
  return lead_vector(m.layout.drivetrain.idler, list, none);
}

/// From the shock's first eye to its second.
template <class T>
Vec2<T> shock_line(const Model& m, const std::vector<Vec2<T>>& position) {
  const linkage::Drive& drive = m.layout.mechanism.drive;
  return position[static_cast<std::size_t>(drive.b)] - position[static_cast<std::size_t>(drive.a)];
}

template <class T>
void shock_line_curves(const Vec2<T>& drawn, const Vec2<T>& line, StationValues<T>& out) {
  // The angle goes on from the drawn one, so that it does not jump by a turn within the stroke.
  const T turn = math::atan2(cross(drawn, line), dot(drawn, line)) * math::degrees(1.0);
  out[Curve::shock_rotation] = turn;
  out[Curve::shock_angle] = math::atan2(drawn.y, drawn.x) * math::degrees(1.0) + turn;
}

template <class T>
void geometry_curves(const Model& m, const Ground<T>& g, const Wanted& wanted, StationValues<T>& out) {
  const Front& front = m.layout.front;
  out[Curve::wheelbase] = g.wheelbase;
  out[Curve::bb_height] = g.height(Vec2<T>{T(0.0), T(0.0)});
  if (wanted.angles) {
    const T tilt = math::atan2(g.along.y, g.along.x);
    out[Curve::pitch] = tilt * -math::degrees(1.0);
    out[Curve::head_angle] = tilt * math::degrees(1.0) + front.head_angle;
    out[Curve::seat_angle] = tilt * math::degrees(1.0) + m.layout.seat_angle.value_or(0.0);
  }
  if (!wanted.head_tube || !front.head_tube) return;
  const Vec2<T> top = math::constant<T>(front.head_tube->top);
  const Vec2<T> axis = math::constant<T>(-m.steering);
  out[Curve::reach] = dot(top, g.along);
  out[Curve::stack] = dot(top, g.normal);
  const T down = -(g.height(top) / dot(axis, g.normal));
  out[Curve::trail] = dot(top + axis * down - g.front_contact, g.along);
}

template <class T>
void instant_centre_curves(const Vec2<T>& axle, const Vec2<T>& velocity, const T& turning, StationValues<T>& out) {
  // IC = P + perp(v)/ω. The guard keeps a parallel motion finite; `ic_bend` tells that it is at infinity.
  const T speed2 = squared_norm(velocity);
  const T inverse = turning / (turning * turning + speed2 * T(1e-18) + T(1e-30));
  const Vec2<T> centre = axle + perp(velocity) * inverse;
  out[Curve::ic_x] = centre.x;
  out[Curve::ic_y] = centre.y;
  out.ic_bend = turning / math::sqrt(speed2 + T(1e-30));
}

template <class T>
void force_curves(const Model& m, const T& shock, const T& leverage, const T& leverage_slope, StationValues<T>& out) {
  const spring::Spring& spring = *m.layout.shock->spring;
  const T force = spring.force(shock), stiffness = spring.stiffness(shock);
  const T inverse = T(1.0) / leverage;
  out[Curve::shock_force] = force;
  out[Curve::wheel_force] = force * inverse;
  // dFw/dz = k/LR² − Fs·(dLR/dz)/LR², from Fw = Fs/LR and dc/dz = 1/LR.
  out[Curve::wheel_rate] = (stiffness - force * leverage_slope) * inverse * inverse;
}

/// A curve of linkage points.
template <class T>
T point_curve(const CurveKey& key, const std::vector<Vec2<T>>& position) {
  const Vec2<T>& a = position[static_cast<std::size_t>(key.a)];
  if (key.curve == Curve::point_x) return a.x;
  if (key.curve == Curve::point_y) return a.y;
  return norm(position[static_cast<std::size_t>(key.b)] - a);
}

/// Force along the shock bottomed with a spring set up to carry `own` at compression `shock`, N.
template <class T>
T bottomed_when_set_up(const Model& m, const CurveKey& key, const T& shock, const T& own) {
  const spring::Spring& spring = *m.layout.shock->spring;
  const double end = m.range();
  const double stop = spring.bump_stop ? spring.bump_stop->force_at(end, spring.stroke) : 0.0;
  if (const auto* coil = std::get_if<spring::Coil>(&spring.kind))
    return coil->rate_for(own, shock) * (end + coil->preload) + stop;
  if (const auto* given = std::get_if<spring::Air>(&spring.kind)) {
    spring::Air air = *given;
    if (key.spacers >= 0) air.spacers = key.spacers;
    T bar = air.pressure_for(own, shock, spring::isothermal);
    if (const auto& pressures = m.layout.set_up.pressures)
      bar = math::max(math::min(bar, T(pressures->second)), T(pressures->first));
    return air.force_pumped_to(bar, end, air.exponent) + stop;
  }
  return T(spring.force(end));
}

/// A curve of a rider's weight at rest, `load` being what of it acts along the shock, N.
template <class T>
T rider_curve(const Model& m, const CurveKey& key, const T& shock, const T& load) {
  const spring::Spring& spring = *m.layout.shock->spring;
  if (key.curve == Curve::spring_support)
    return T(100.0) * spring.force(shock, spring::Pace::set_up) /
           math::select(math::abs(load) < T(1e-9), T(1e-9), load);
  // What the bump stop carries does not come from the spring itself.
  const T own = spring.bump_stop ? load - spring.bump_stop->force_at(shock, spring.stroke) : load;
  if (key.curve == Curve::set_up_bottom_force) {
    const Masses& mass = *m.layout.mass;
    const auto landing = m.layout.loads.landing_of(key.of_rider() ? key.rider : mass.rider, mass);
    return bottomed_when_set_up(m, key, shock, own) * (100.0 / landing.value_or(1e9));
  }
  if (const auto* air = std::get_if<spring::Air>(&spring.kind))
    return air->pressure_for(own, shock, spring::isothermal);
  return std::get<spring::Coil>(spring.kind).rate_for(own, shock);
}

/// A curve that a target names: of points, a pivot or a rider. `load`(rider in kg) is along the shock, N.
template <class T, class Load>
void named_curves(const Model& m, const Ground<T>& ground, const linkage::Geometry<T>& geometry,
                  const linkage::State<T>& state, const Wanted& wanted, Load load, StationValues<T>& out) {
  out.named.resize(wanted.named.size());
  int balanced = -1;  // the load case whose forces are known
  for (std::size_t i = 0; i < wanted.named.size(); ++i) {
    const CurveKey& key = wanted.named[i];
    if (about_rider(record(key.curve).needs)) {
      out.named[i] = {key, rider_curve(m, key, state.s, load(key.of_rider() ? key.rider : m.layout.mass->rider))};
      continue;
    }
    if (key.curve != Curve::pivot_force) {
      out.named[i] = {key, point_curve(key, state.position)};
      continue;
    }
    if (key.load != balanced) {
      if (out.forces.at.empty()) out.forces.resize(m.program);
      put_load(m, m.layout.loads.cases[static_cast<std::size_t>(key.load)], ground, state.position, out.forces);
      linkage::balance(m.program, geometry, state, out.forces);
      balanced = key.load;
    }
    out.named[i] = {key, pivot_force(m, geometry, state, out.forces, key.a)};
  }
}

}  // namespace detail

/// Fork compression per mm of wheel travel when the fork follows the rear to the end of its `whole` travel, mm.
template <class T>
T fork_rate(const Front& front, const T& whole) {
  return T(front.travel) / math::select(math::abs(whole) < T(1e-9), T(1e-9), whole);
}

/// Fork compression in mm when the rear has used `travel` mm; `rate`: see fork_rate.
template <class T>
T fork_compression(const Front& front, const T& travel, const T& rate) {
  switch (front.follows) {
    case ForkFollows::extended:
      return T(0.0);
    case ForkFollows::at_sag:
      return T(front.sag * front.travel);
    case ForkFollows::matched:
      break;
  }
  return travel * rate;
}

/// Front axle when the fork is compressed by `compression` mm along the steering axis.
template <class T>
Vec2<T> front_axle(const Model& m, const T& compression) {
  return math::constant<T>(m.layout.front.axle) + math::constant<T>(m.steering) * compression;
}

/// Ground at a rear axle position.
template <class T>
Ground<T> ground_at(const Model& m, const Vec2<T>& axle, const T& fork) {
  return find_ground(axle, front_axle(m, fork), m.layout.rear_radius, m.layout.front_radius);
}

/// What the rear wheel carries across the ground while the bike stands level under its rider, N: moments about the
/// front contact of the sprung mass alone, since each unsprung mass stands over its own contact. `cg` is fixed to the
/// frame.
template <class T>
T rest_load(const Masses& mass, double rider, const Ground<T>& ground, const Vec2<T>& cg) {
  return T(mass.sprung(rider) * gravity) * dot(ground.front_contact - cg, ground.along) / ground.wheelbase;
}

/// The reference for the curves; `state` is assembled at s = 0.
template <class T>
void top_out(const Model& m, const linkage::State<T>& state, ToppedOut<T>& out) {
  const Layout& layout = m.layout;
  const Vec2<T> none{T(0.0), T(0.0)};
  out.axle = state.position[static_cast<std::size_t>(layout.axle.point)];
  out.chainstay = norm(out.axle);
  const Ground<T> ground = ground_at(m, out.axle, fork_compression(layout.front, T(0.0), T(0.0)));
  // The height is given over the ground, the place along it by frame x: solve n·((x, y) − Cr) = h for y.
  const T x(layout.cg.x);
  out.cg = {x, (T(layout.cg.height) + dot(ground.normal, ground.rear_contact) - ground.normal.x * x) / ground.normal.y};
  out.cg_height = T(layout.cg.height);
  if (m.has_shock()) out.shock = detail::shock_line(m, state.position);
  out.roller = detail::lead_vector(layout.drivetrain.roller, state.position, none);
  out.runs.resize(m.circles.size());
  for (std::size_t g = 0; g < m.circles.size(); ++g)
    out.runs[g] = chain_run(m.circles[g], out.axle, detail::idler_vector(m, state.position, none));
}

/// The curves at a position with velocities (and accelerations, when forces are wanted). `forks`: see
/// fork_rate.
template <class T>
void station(const Model& m, const ToppedOut<T>& ref, const linkage::Geometry<T>& geometry,
             const linkage::State<T>& state, const T& forks, const Wanted& wanted, StationValues<T>& out) {
  const Layout& layout = m.layout;
  const auto p = static_cast<std::size_t>(layout.axle.point);
  const Vec2<T> none{T(0.0), T(0.0)};
  const Vec2<T> axle = state.position[p], velocity = state.velocity[p];

  const T travel = axle.y - ref.axle.y;
  out[Curve::travel] = travel;
  out[Curve::axle_x] = axle.x;
  out[Curve::axle_y] = axle.y;
  out[Curve::rearward] = ref.axle.x - axle.x;
  if (wanted.chainstay) {
    out[Curve::chainstay] = norm(axle);
    out[Curve::chainstay_growth] = out[Curve::chainstay] - ref.chainstay;
    if (wanted.chainstay_share)
      out[Curve::chainstay_growth_share] = out[Curve::chainstay_growth] / ref.chainstay * T(100.0);
  }
  if (m.has_shock()) {
    out[Curve::shock] = state.s;
    out[Curve::leverage] = velocity.y;
    if (wanted.motion_ratio)
      out[Curve::motion_ratio] = T(1.0) / math::select(math::abs(velocity.y) < T(1e-9), T(1e-9), velocity.y);
    if (wanted.shock_line) detail::shock_line_curves(ref.shock, detail::shock_line(m, state.position), out);
    if (wanted.energy && layout.shock->spring) {
      const spring::Spring& spring = *layout.shock->spring;
      out[Curve::energy] = spring.energy(state.s) * 1e-3;  // N·mm to J
      out[Curve::energy_to_bottom] = T(1e-3 * spring.energy(m.range())) - out[Curve::energy];
    }
    if (wanted.forces && layout.shock->spring) {
      const T lever = math::select(math::abs(velocity.y) < T(1e-9), T(1e-9), velocity.y);
      detail::force_curves(m, state.s, lever, state.acceleration[p].y / lever, out);
    }
  }

  const Ground<T> ground = ground_at(m, axle, fork_compression(layout.front, travel, forks));
  // By virtual work the shock carries the wheel's load · (n·dP/dc).
  const auto load = [&](double rider) {
    return T(rest_load(*layout.mass, rider, ground, ref.cg) * dot(ground.normal, velocity));
  };
  detail::named_curves(m, ground, geometry, state, wanted, load, out);
  detail::geometry_curves(m, ground, wanted, out);
  if (wanted.support && m.has_shock() && layout.shock->spring && layout.mass)
    out[Curve::spring_support] =
        detail::rider_curve(m, CurveKey{Curve::spring_support}, state.s, load(layout.mass->rider));
  const T height = layout.cg.follows == CgFollows::frame ? ground.height(ref.cg) : ref.cg_height;
  out[Curve::cg_height] = height;

  if (wanted.centre)
    detail::instant_centre_curves(axle, velocity, linkage::turning_rate(m.program, geometry, layout.axle.member, state),
                                  out);
  const LoadTransfer<T> transfer = load_transfer(ground, velocity, height);
  if (wanted.anti_rise) {
    const T caliper = linkage::turning_rate(m.program, geometry, layout.brake_member, state);
    out[Curve::anti_rise] = anti_share(transfer, T(caliper * T(layout.rear_radius)));
  }

  const Vec2<T> idler = detail::idler_vector(m, state.position, none);
  const Vec2<T> roller = detail::lead_vector(layout.drivetrain.roller, state.position, none);
  const Vec2<T> idler_velocity = detail::idler_vector(m, state.velocity, none);
  for (std::size_t g = 0; g < m.circles.size(); ++g) {
    const Wanted::OfGear& of = wanted.gears[g];
    const ChainCircles& c = m.circles[g];
    if (of.total)
      out.total_chain_growth[g] =
          total_chain_growth(c, ref.runs[g], {ref.axle, none, ref.roller}, {axle, idler, roller});
    if (of.clearance) out.chain_clearance[g] = chain_clearance(c, axle, idler, m.clear_of, state.position);
    if (!of.growth && !of.anti_squat) continue;
    const ChainRun<T> run = chain_run(c, axle, idler);
    if (of.growth) {
      out.chain_growth[g] = chain_growth(c, ref.runs[g], run);
      out.kickback[g] = out.chain_growth[g] * (math::degrees(1.0) / c.ring);
    }
    if (!of.anti_squat) continue;
    const T rolled = taken_up(c, run, velocity, idler_velocity) * T(layout.rear_radius / c.cog);
    out.anti_squat[g] = anti_share(transfer, rolled);
  }
}

}  // namespace trammel::bike
