// How far a curve is off the straight line between the two places that a measure looks at.
#include "search/departure.hpp"

#include <catch2/catch.hpp>

#include "tests/search/briefs.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using test::within;

namespace {

/// A leverage of 3 − z/100 with a bump of a sine's half wave, over 100 mm of travel.
bike::CurveTable bumpy(double bump) {
  bike::CurveTable table;
  table.columns = {{{bike::Curve::travel}, "travel_mm", {}}, {{bike::Curve::leverage}, "leverage", {}}};
  for (int i = 0; i <= 100; ++i) {
    table.columns[0].values.emplace_back(i);
    table.columns[1].values.emplace_back(3.0 - i / 100.0 + bump * std::sin(3.14159265358979 * i / 100.0));
  }
  return table;
}

}  // namespace

TEST_CASE("a measure of two ends tells what lies between them") {
  const bike::Layout layout = test::trail_brief().layout;
  objectives::Target target;
  target.measure = objectives::Measure::progressivity;
  target.curve = {bike::Curve::leverage};
  target.at = {objectives::Station::Kind::topped_out, 0.0};
  target.to = {objectives::Station::Kind::bottomed, 0.0};
  const auto bump = search::departure_of(target, layout, bumpy(0.4));
  REQUIRE(bump);
  CHECK(bump->amount == within(0.4, 1e-9));
  CHECK(bump->at_travel == within(50.0, 1e-9));
  CHECK(search::departure_of(target, layout, bumpy(0.0))->amount == within(0.0, 1e-12));
  // Between 20 and 60 mm: off the chord of the sine there.
  target.at = {objectives::Station::Kind::fraction, 0.2};
  target.to = {objectives::Station::Kind::travel, 60.0};
  const auto part = search::departure_of(target, layout, bumpy(1.0));
  REQUIRE(part);
  double most = 0.0;
  const auto sine = [](double z) { return std::sin(3.14159265358979 * z / 100.0); };
  for (int z = 20; z <= 60; ++z)
    most = std::max(most, std::abs(sine(z) - sine(20) - (sine(60) - sine(20)) * (z - 20) / 40.0));
  CHECK(part->amount == within(most, 1e-9));
  // A measure that looks at the whole stretch leaves nothing unsaid.
  target.measure = objectives::Measure::rise;
  CHECK_FALSE(search::departure_of(target, layout, bumpy(0.4)));
}
