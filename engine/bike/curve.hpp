// The table of curves: one record a curve, read by the brief's parser, the schema, the CSV, the reports and the docs.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace trammel::bike {

enum class Curve {
  shock,
  travel,
  axle_x,
  axle_y,
  rearward,
  leverage,
  motion_ratio,
  shock_angle,
  shock_rotation,
  chainstay,
  chainstay_growth,
  chainstay_growth_share,
  ic_x,
  ic_y,
  pitch,
  wheelbase,
  bb_height,
  head_angle,
  seat_angle,
  trail,
  reach,
  stack,
  cg_height,
  anti_rise,
  chain_growth,
  kickback,
  anti_squat,
  total_chain_growth,
  chain_clearance,
  shock_force,
  wheel_force,
  wheel_rate,
  spring_support,
  set_up_rate,
  set_up_pressure,
  set_up_bottom_force,
  energy,
  energy_to_bottom,
  point_x,
  point_y,
  point_distance,
  pivot_force,
};
inline constexpr int curve_count = static_cast<int>(Curve::pivot_force) + 1;

/// What a curve needs beyond a linkage with an axle.
enum class Needs {
  nothing,
  shock,
  gear,
  spring,
  head_tube,
  seat_angle,
  rider,
  coil,
  air,
  landing,
  point,
  points,
  pivot
};

/// Whether a curve is about a rider at rest.
constexpr bool about_rider(Needs needs) {
  return needs == Needs::rider || needs == Needs::coil || needs == Needs::air || needs == Needs::landing;
}

struct CurveRecord {
  Curve curve;
  std::string_view key;     ///< its name in a brief
  std::string_view column;  ///< its CSV column, with the unit
  std::string_view title;   ///< its name in a report
  std::string_view unit;    ///< as printed: mm, °, %, N, N/mm, or empty for a ratio
  double tolerance;         ///< default scale of a target's residual, in the curve's unit
  Needs needs;
  bool in_csv;               ///< a column of the curves CSV
  std::string_view meaning;  ///< one sentence for the docs and the schema
};

/// All records, in CSV column order; `curve_table()[i].curve` has the value i.
const std::array<CurveRecord, curve_count>& curve_table();
const CurveRecord& record(Curve curve);
/// The record of a brief's curve name; null when there is none.
const CurveRecord* find_curve(std::string_view key);

/// A curve, and for curves that need a gear which one (index into Drivetrain::gears), for those that need linkage
/// points or a pivot which (index into Mechanism::points), for the force in a pivot under which load (index into
/// Loads::cases); −1 otherwise.
struct CurveKey {
  Curve curve = Curve::travel;
  int gear = -1;
  int a = -1;
  int b = -1;
  int load = -1;
  double rider = 0.0;  ///< of curves that need one: mass with kit, kg; 0 = the layout's own
  int spacers = -1;    ///< in the air spring, of what set-up finds; −1 = as many as it has

  bool of_rider() const { return rider > 0.0; }
  friend bool operator==(const CurveKey&, const CurveKey&) = default;
};

/// Whether a layout has as many of a curve as it has points, pivots or riders, so that no table of all curves has it
/// unless it is asked for.
bool named_by_target(const CurveKey& key);

}  // namespace trammel::bike
