#include "bike/reading.hpp"

#include <catch2/catch.hpp>

using namespace trammel;
using bike::Curve;

namespace {

double cubic(double z) {
  return 3.0 - 0.5 * z + 0.02 * z * z - 0.0003 * z * z * z;
}

bike::CurveTable table_of_a_cubic() {
  bike::CurveTable table;
  table.columns = {{{Curve::travel}, "travel_mm", {}}, {{Curve::leverage}, "leverage", {}}};
  for (const double z : {0.0, 11.0, 25.0, 36.0, 52.0, 60.0, 71.0}) {  // not evenly spaced
    table.columns[0].values.emplace_back(z);
    table.columns[1].values.emplace_back(cubic(z));
  }
  return table;
}

}  // namespace

TEST_CASE("a cubic is read exactly between and at the stations") {
  const auto table = table_of_a_cubic();
  for (double z = 0.0; z <= 71.0; z += 0.25) {
    const auto value = bike::value_at(table, {Curve::leverage}, z);
    REQUIRE(value);
    CHECK(*value == Approx(cubic(z)).epsilon(1e-12));
  }
}

TEST_CASE("nothing is read outside the travel, across a gap, or of a curve that is not there") {
  auto table = table_of_a_cubic();
  CHECK_FALSE(bike::value_at(table, {Curve::leverage}, -0.1));
  CHECK_FALSE(bike::value_at(table, {Curve::leverage}, 71.1));
  CHECK_FALSE(bike::value_at(table, {Curve::anti_squat, 0}, 30.0));
  table.columns[1].values[1] = std::nullopt;
  CHECK_FALSE(bike::value_at(table, {Curve::leverage}, 30.0));
  CHECK(bike::value_at(table, {Curve::leverage}, 68.0) == Approx(cubic(68.0)).epsilon(1e-12));
}
