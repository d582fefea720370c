// Sprocket diameters and chain lengths.
//
// Diameters: p/sin(180°/z). The table of pitch diameters for a pitch of 25.4 mm at tandwiel.info was read; all its 53
// values, z = 8 … 60, agree to its 0.01 mm with the unit diameters below, which are given to four decimals. The unit
// diameters of ISO 606 / ANSI B29.1 are the same (from memory).
//
// Chain length in pitches: the exact length of a belt of two circles, wraps counted in teeth; the approximate formula
// 2C + (z1 + z2)/2 + ((z2 − z1)/2π)²/C is common to engineering handbooks (read at engpowerdata.com). Read in an
// excerpt of a chain-drive paper: 20 and 63 teeth at a centre distance of 36 pitches need 114.8. From memory, Shigley's
// Mechanical Engineering Design, ch. 17: 17 and 34 teeth at 30 pitches need 85.74. The bicycle examples are computed.
#include <catch2/catch.hpp>

#include "bike/chain.hpp"
#include "bike/sprocket.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using math::Vec2;
using test::printed;

TEST_CASE("pitch diameters of sprockets with 9 to 60 teeth") {
  const double unit[] = {2.9238,  3.2361,  3.5495,  3.8637,  4.1786,  4.4940,  4.8097,  5.1258,  5.4422,
                         5.7588,  6.0755,  6.3925,  6.7095,  7.0267,  7.3439,  7.6613,  7.9787,  8.2962,
                         8.6138,  8.9314,  9.2491,  9.5668,  9.8845,  10.2023, 10.5201, 10.8380, 11.1558,
                         11.4737, 11.7916, 12.1096, 12.4275, 12.7455, 13.0635, 13.3815, 13.6995, 14.0175,
                         14.3356, 14.6536, 14.9717, 15.2898, 15.6079, 15.9260, 16.2441, 16.5622, 16.8803,
                         17.1984, 17.5166, 17.8347, 18.1529, 18.4710, 18.7892, 19.1073};
  const double half_inch[] = {37.132,  41.098,  45.078,  49.069,  53.068,  57.073,  61.084,  65.098,  69.116,
                              73.136,  77.159,  81.184,  85.211,  89.239,  93.268,  97.298,  101.330, 105.362,
                              109.395, 113.429, 117.463, 121.498, 125.533, 129.569, 133.605, 137.642, 141.679,
                              145.716, 149.754, 153.791, 157.830, 161.868, 165.906, 169.945, 173.984, 178.023,
                              182.062, 186.101, 190.141, 194.180, 198.220, 202.260, 206.300, 210.340, 214.380,
                              218.420, 222.460, 226.501, 230.541, 234.582, 238.622, 242.663};
  static_assert(std::size(unit) == 52 && std::size(half_inch) == 52);
  for (int z = 9; z <= 60; ++z) {
    INFO(z << " teeth");
    const auto i = static_cast<std::size_t>(z - 9);
    CHECK(2.0 * bike::pitch_radius(z, 1.0) == printed(unit[i], 4));
    CHECK(2.0 * bike::pitch_radius(z) == printed(half_inch[i], 3));
  }
}

namespace {

/// Closed chain around two sprockets a `centre` apart, in pitches: both tangents from the program, the wraps counted in
/// teeth from the directions of the tangents.
double chain_in_pitches(int small, int large, double centre, double pitch) {
  const double r = bike::pitch_radius(small, pitch), ring = bike::pitch_radius(large, pitch);
  const Vec2<double> at{-centre, 0.0}, origin{0.0, 0.0};
  const auto upper = bike::tangent(at, r, origin, ring);  // runs over both
  const auto lower = bike::tangent(origin, ring, at, r);  // and back below, over both again
  // From the lower run's direction to the upper's the chain turns clockwise around the small sprocket.
  const double turn = bike::turn_between(upper.along, -lower.along);
  const double wrap_small = math::pi + turn, wrap_large = math::pi - turn;
  return (upper.length + lower.length) / pitch + (wrap_small * small + wrap_large * large) / (2.0 * math::pi);
}

}  // namespace

TEST_CASE("chain lengths from the tangents and the wraps") {
  struct Row {
    int small, large;
    double centre, pitch;  // mm
    double exact;          // pitches
    double quoted;
    int decimals;
  };
  const Row rows[] = {
      {20, 63, 36.0 * 12.7, 12.7, 114.804951, 114.8, 1},
      {17, 34, 30.0 * 12.7, 12.7, 85.744179, 85.74, 2},
      {11, 32, 430.0, 12.7, 89.546721, 0, 0},
      {32, 50, 430.0, 12.7, 108.959073, 0, 0},
      {10, 52, 435.0, 12.7, 100.812640, 0, 0},
      {32, 32, 430.0, 12.7, 99.716535, 0, 0},
  };
  for (const Row& row : rows) {
    INFO(row.small << " and " << row.large << " teeth at " << row.centre << " mm");
    const double length = chain_in_pitches(row.small, row.large, row.centre, row.pitch);
    CHECK(length == printed(row.exact, 6));
    if (row.decimals > 0) CHECK(length == printed(row.quoted, row.decimals));
  }
}

TEST_CASE("the centre distance of a chain of 114 pitches on 20 and 63 teeth") {
  // Read with the example above: 35.6 pitches.
  double low = 30.0, high = 40.0;
  while (high - low > 1e-9) {
    const double middle = 0.5 * (low + high);
    (chain_in_pitches(20, 63, middle, 1.0) < 114.0 ? low : high) = middle;
  }
  CHECK(low == printed(35.589960, 6));
  CHECK(low == printed(35.6, 1));
}
