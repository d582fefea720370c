#include "bike/curve.hpp"

#include <algorithm>

namespace trammel::bike {

const std::array<CurveRecord, curve_count>& curve_table() {
  using enum Needs;
  static constexpr std::array<CurveRecord, curve_count> table{{
      {Curve::shock, "shock", "shock_mm", "Shock compression", "mm", 0.5, shock, true,
       "Shortening of the shock from its topped-out length (lengthening, for a shock that extends)."},
      {Curve::travel, "travel", "travel_mm", "Wheel travel", "mm", 1.0, nothing, true,
       "Rise of the rear axle along the frame's y axis."},
      {Curve::axle_x, "axle_x", "axle_x_mm", "Axle x", "mm", 1.0, nothing, true,
       "Rear axle in frame axes, forward of the bottom bracket."},
      {Curve::axle_y, "axle_y", "axle_y_mm", "Axle y", "mm", 1.0, nothing, true,
       "Rear axle in frame axes, above the bottom bracket."},
      {Curve::rearward, "rearward", "rearward_mm", "Rearward axle travel", "mm", 1.0, nothing, false,
       "How far the rear axle has moved rearward in the frame since topped out; negative = forward."},
      {Curve::leverage, "leverage", "leverage", "Leverage ratio", "", 0.03, shock, true,
       "Wheel travel per shock travel, dz/dc."},
      {Curve::motion_ratio, "motion_ratio", "motion_ratio", "Motion ratio", "", 0.005, shock, false,
       "Shock travel per wheel travel, dc/dz."},
      {Curve::shock_angle, "shock_angle", "shock_angle_deg", "Shock angle", "°", 1.0, shock, false,
       "Direction from the shock's first eye to its second, as the brief names them, in frame axes."},
      {Curve::shock_rotation, "shock_rotation", "shock_rotation_deg", "Shock rotation", "°", 1.0, shock, false,
       "Turn of the shock against the frame since topped out, counter-clockwise positive."},
      {Curve::chainstay, "chainstay", "chainstay_mm", "Chainstay", "mm", 1.0, nothing, true,
       "Distance from bottom bracket to rear axle."},
      {Curve::chainstay_growth, "chainstay_growth", "chainstay_growth_mm", "Chainstay growth", "mm", 1.0, nothing, true,
       "Chainstay minus its topped-out value."},
      {Curve::chainstay_growth_share, "chainstay_growth_share", "chainstay_growth_pct", "Chainstay growth, share", "%",
       0.25, nothing, false, "Chainstay growth in per cent of the topped-out chainstay."},
      {Curve::ic_x, "ic_x", "ic_x_mm", "Instant centre x", "mm", 20.0, nothing, true,
       "Instant centre of the member that carries the axle, relative to the frame."},
      {Curve::ic_y, "ic_y", "ic_y_mm", "Instant centre y", "mm", 20.0, nothing, true,
       "Instant centre of the member that carries the axle, relative to the frame."},
      {Curve::pitch, "pitch", "pitch_deg", "Frame pitch", "°", 0.2, nothing, true,
       "Angle of the frame's x axis over the ground; positive = front up."},
      {Curve::wheelbase, "wheelbase", "wheelbase_mm", "Wheelbase", "mm", 2.0, nothing, true,
       "Distance between the wheels' ground contacts."},
      {Curve::bb_height, "bb_height", "bb_height_mm", "Bottom-bracket height", "mm", 2.0, nothing, true,
       "Height of the bottom-bracket axis over the ground."},
      {Curve::head_angle, "head_angle", "head_angle_deg", "Head angle", "°", 0.2, nothing, false,
       "Steering axis against the ground."},
      {Curve::seat_angle, "seat_angle", "seat_angle_deg", "Seat angle", "°", 0.2, seat_angle, false,
       "Effective seat angle against the ground: the drawn one turned with the frame."},
      {Curve::trail, "trail", "trail_mm", "Trail", "mm", 2.0, head_tube, false,
       "Distance along the ground from the steering axis to the front contact behind it."},
      {Curve::reach, "reach", "reach_mm", "Reach", "mm", 2.0, head_tube, false,
       "Along the ground, bottom bracket to the top of the head tube."},
      {Curve::stack, "stack", "stack_mm", "Stack", "mm", 2.0, head_tube, false,
       "Across the ground, bottom bracket to the top of the head tube."},
      {Curve::cg_height, "cg_height", "cg_height_mm", "Centre-of-gravity height", "mm", 5.0, nothing, true,
       "Height of the centre of gravity over the ground."},
      {Curve::anti_rise, "anti_rise", "anti_rise_pct", "Anti-rise", "%", 3.0, nothing, true,
       "Share of the load transfer under rear braking that the linkage balances."},
      {Curve::chain_growth, "chain_growth", "chain_growth_mm", "Chain growth", "mm", 1.0, gear, true,
       "Change of chain that the driving run needs, wheel and crank held to the frame."},
      {Curve::kickback, "kickback", "kickback_deg", "Pedal kickback", "°", 1.0, gear, true,
       "Backward crank turn that the chain growth causes."},
      {Curve::anti_squat, "anti_squat", "anti_squat_pct", "Anti-squat", "%", 2.0, gear, true,
       "Share of the load transfer under drive that the linkage balances."},
      {Curve::total_chain_growth, "total_chain_growth", "total_chain_growth_mm", "Total chain growth", "mm", 1.0, gear,
       false, "Change of chain that the driving and the slack run need together, which the derailleur takes up."},
      {Curve::chain_clearance, "chain_clearance", "chain_clearance_mm", "Chain clearance", "mm", 1.0, gear, false,
       "Least distance in side view from the driving run's pitch line to a pivot or shock eye."},
      {Curve::shock_force, "shock_force", "shock_force_n", "Shock force", "N", 25.0, spring, true,
       "Spring force along the shock."},
      {Curve::wheel_force, "wheel_force", "wheel_force_n", "Wheel force", "N", 10.0, spring, true,
       "Force at the rear axle along the frame's y that the spring carries."},
      {Curve::wheel_rate, "wheel_rate", "wheel_rate_n_mm", "Wheel rate", "N/mm", 0.5, spring, true,
       "Change of wheel force per wheel travel."},
      {Curve::spring_support, "spring_support", "spring_support_pct", "Spring support", "%", 2.0, rider, false,
       "Slow spring force in per cent of what the rider's weight at rest loads the shock with there; 100 at the sag at "
       "which the bike comes to rest."},
      {Curve::set_up_rate, "set_up_rate", "set_up_rate_n_mm", "Coil rate to rest there", "N/mm", 1.0, coil, false,
       "Coil rate with which the bike would come to rest there under its rider; at sag what set-up finds."},
      {Curve::set_up_pressure, "set_up_pressure", "set_up_pressure_bar", "Pressure to rest there", "bar", 0.2, air,
       false,
       "Gauge pressure with which the bike would come to rest there under its rider, the spacers as given; at "
       "sag what set-up finds with as many."},
      {Curve::set_up_bottom_force, "set_up_bottom_force", "set_up_bottom_force_pct",
       "Bottoming force when set up there", "%", 2.0, landing, false,
       "Force along the shock bottomed, with the spring with which the bike would rest there under its rider, in per "
       "cent of the landing load at the wheel; bottom_out_margin takes the leverage bottomed into account."},
      {Curve::energy, "energy", "energy_j", "Spring energy", "J", 5.0, spring, false,
       "Work that the spring has taken up since topped out, friction and damping left out."},
      {Curve::energy_to_bottom, "energy_to_bottom", "energy_to_bottom_j", "Energy to bottom", "J", 5.0, spring, false,
       "Work that the spring still takes up from here to bottomed."},
      {Curve::point_x, "point_x", "point_x_mm", "x", "mm", 1.0, point, false,
       "A linkage point in frame axes, forward of the bottom bracket."},
      {Curve::point_y, "point_y", "point_y_mm", "y", "mm", 1.0, point, false,
       "A linkage point in frame axes, above the bottom bracket."},
      {Curve::point_distance, "point_distance", "point_distance_mm", "Distance", "mm", 1.0, points, false,
       "Distance between two linkage points; of two on one member, a link's length."},
      {Curve::pivot_force, "pivot_force", "pivot_force_n", "Force", "N", 100.0, pivot, false,
       "Force in a pivot or shock eye under a load case, by statics; where more than two parts meet, the greatest that "
       "a member feels."},
  }};
  return table;
}

const CurveRecord& record(Curve curve) {
  return curve_table()[static_cast<std::size_t>(curve)];
}

const CurveRecord* find_curve(std::string_view key) {
  const auto& table = curve_table();
  const auto found = std::find_if(table.begin(), table.end(), [&](const CurveRecord& r) { return r.key == key; });
  return found == table.end() ? nullptr : &*found;
}

bool named_by_target(const CurveKey& key) {
  const Needs needs = record(key.curve).needs;
  return needs == Needs::point || needs == Needs::points || needs == Needs::pivot ||
         (about_rider(needs) && needs != Needs::rider) || key.of_rider();
}

}  // namespace trammel::bike
