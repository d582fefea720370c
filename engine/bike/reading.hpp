// Reading a curve table: columns by curve, values between stations.
#pragma once

#include <optional>
#include <vector>

#include "bike/table.hpp"

namespace trammel::bike {

using Values = std::vector<std::optional<double>>;

/// The values of a curve at the stations; empty when the layout does not have it.
Values values(const CurveTable& table, CurveKey key);

/// Wheel travel at the last station, mm.
double whole_travel(const CurveTable& table);

/// A curve at a wheel travel in mm, read between the stations by a cubic through the four nearest ones. Absent when
/// one of them is absent or the travel lies outside the table.
std::optional<double> value_at(const CurveTable& table, CurveKey key, double travel);

/// The keys of one curve in a table: one, or one a gear.
std::vector<CurveKey> keys_of(const CurveTable& table, Curve curve);

}  // namespace trammel::bike
