// The curves of one layout as a table of numbers, for CSV, plots and tests.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bike/curve.hpp"
#include "bike/layout.hpp"

namespace trammel::bike {

/// A curve through the stations. A value is absent where the curve has none (an instant centre at infinity).
struct Column {
  CurveKey key;
  std::string name;  ///< e.g. "anti_squat_pct[32x18]"
  std::vector<std::optional<double>> values;
};

struct CurveTable {
  std::vector<Column> columns;
  /// The column of a curve; null when the layout does not have that curve.
  const Column* find(CurveKey key) const;
};

/// Where each part lies at one station: what a drawing needs.
struct Pose {
  double shock = 0.0;                   ///< compression, mm
  double travel = 0.0;                  ///< mm
  std::vector<Point> points;            ///< all linkage points, frame axes, mm
  Point front_axle;                     ///< frame axes, mm
  Point rear_contact;                   ///< frame axes, mm
  Point front_contact;                  ///< frame axes, mm
  Point ground;                         ///< unit vector forward along the ground, frame axes
  std::optional<Point> instant_centre;  ///< absent at infinity
  Point ic_direction;                   ///< unit vector towards the instant centre from the axle, also when at infinity
};

/// Raised when a layout cannot be moved through its stroke; the text names the joint and the travel.
struct MotionFailure {
  std::string text;
};

struct Motion {
  CurveTable table;
  std::vector<Pose> poses;                 ///< one a station
  double least_transmission = 0.0;         ///< degrees
  std::string least_transmission_joint;    ///< its joint's name
  double least_transmission_travel = 0.0;  ///< mm
};

/// Moves a layout through its stroke: `stations` ≥ 2 places, uniform in the driving coordinate, both ends included.
/// `every_curve` false gives the columns of the curves CSV, true all curves that the layout has.
/// `named` are curves of points and pivots to add. Throws MotionFailure when it does not reach the end of the stroke on
/// the drawn branch.
Motion trace(const Layout& layout, int stations, bool every_curve, const std::vector<CurveKey>& named = {});

/// The pose at a wheel travel in mm (0 … the whole travel), exactly.
Pose pose_at_travel(const Layout& layout, double travel);

/// Whether a layout has what a curve needs; of points and pivots never, since only who asks knows which.
bool has(const Layout& layout, Needs needs);

/// Travel in mm at the layout's sag.
double sag_travel(const Layout& layout);

}  // namespace trammel::bike
