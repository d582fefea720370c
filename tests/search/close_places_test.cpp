// The closest places of a layout, on a single pivot whose positions are known in closed form.
#include "search/close_places.hpp"

#include <catch2/catch.hpp>

#include "search/make_sheet.hpp"
#include "tests/objectives/single_pivot.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using linkage::Point;

TEST_CASE("the place is on both outlines, where the bodies are at that travel, and as wide as was judged") {
  const test::SinglePivot pivot;
  bike::Layout layout = pivot.layout();
  layout.rear_radius = 360.0;
  objectives::Packaging packaging;
  bike::Body tyre, round;
  tyre.name = "tyre";
  tyre.kind = bike::BodyKind::tyre;
  round.name = "round";
  round.spots = {{-1, 0, {-20.0, 160.0}}};
  round.diameter = 34.0;
  packaging.bodies = {tyre, round};
  packaging.clearances = {{0, {1}, 6.0}};
  const search::Sheet sheet = search::make_sheet(layout, {}, packaging);
  REQUIRE(sheet.close_places.size() == 1);
  const search::ClosePlace& place = sheet.close_places.front();
  const auto rule = std::find_if(sheet.assessment.rules.begin(), sheet.assessment.rules.end(),
                                 [](const auto& r) { return r.name == "clearance"; });
  REQUIRE(rule != sheet.assessment.rules.end());
  CHECK(place.gap == rule->achieved);
  CHECK(place.travel == rule->at_travel);
  CHECK(place.met == rule->met);
  // The swingarm's turn at that travel by halving.
  double lo = 0.0, hi = pivot.stroke;
  for (int i = 0; i < 60; ++i) (pivot.travel(0.5 * (lo + hi)) < place.travel ? lo : hi) = 0.5 * (lo + hi);
  const Point axle =
      pivot.pivot + turn(pivot.axle - pivot.pivot, Point{std::cos(pivot.turn(lo)), std::sin(pivot.turn(lo))});
  CHECK(norm(place.from - axle) == test::within(360.0, 1e-6));
  CHECK(norm(place.to - Point{-20.0, 160.0}) == test::within(17.0, 1e-6));
  const double apart = norm(place.to - place.from);
  CHECK(apart == test::within(std::abs(place.gap), 1e-6));
  REQUIRE(place.bodies.size() == 2);
  CHECK(place.bodies[0].name == "tyre");
}
