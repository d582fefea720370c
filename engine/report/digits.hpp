// Numbers as text.
#pragma once

#include <string>

namespace trammel::report {

/// The shortest decimal text that reads back to the same double; YAML and CSV readers alike take it for a number.
/// Throws std::invalid_argument for NaN and infinities: no file of ours has them.
std::string exact(double x);
/// Rounded to `decimals` places, without a negative zero; "–" for what is not finite.
std::string shown(double x, int decimals);
/// Rounded to `digits` significant digits, e.g. for a score of unknown size.
std::string significant(double x, int digits);
/// With thin gaps between thousands: 48 312.
std::string grouped(long long n);
/// Places that show a tenth of a tolerance: 2 % → 1, 0.05 → 3, 20 mm → 0.
int decimals_for(double tolerance);

}  // namespace trammel::report
