// Which places in the travel a set of targets needs.
#include "objectives/places.hpp"

#include <catch2/catch.hpp>

#include "tests/support/close.hpp"

using namespace trammel;
using namespace trammel::objectives;
using bike::Curve;
using test::within;
using Kind = Station::Kind;

namespace {

Target at(Curve curve, Station station, int gear = -1) {
  Target t;
  t.curve = {curve, gear};
  t.at = station;
  return t;
}
Target over(Curve curve, double from, double to) {
  Target t;
  t.curve = {curve, -1};
  t.over = Stretch{from, to};
  return t;
}
Target measure(Station from, Station to) {
  Target t;
  t.measure = Measure::progressivity;
  t.curve = {Curve::leverage, -1};
  t.at = from;
  t.to = to;
  return t;
}

}  // namespace

TEST_CASE("a place that several targets ask for is computed once") {
  const std::vector<Target> targets = {
      at(Curve::travel, {Kind::bottomed, 0.0}),
      at(Curve::leverage, {Kind::sag, 0.0}),
      at(Curve::anti_squat, {Kind::sag, 0.0}, 1),
      at(Curve::rearward, {Kind::travel, 60.0}),
      at(Curve::leverage, {Kind::travel, 60.0}),
      at(Curve::leverage, {Kind::travel, 61.0}),
      measure({Kind::topped_out, 0.0}, {Kind::bottomed, 0.0}),
  };
  const Places places = plan_places(targets, 3);
  REQUIRE(places.stations.size() == 5);  // bottomed, sag, 60 mm, 61 mm, topped out
  REQUIRE(places.targets.size() == targets.size());
  CHECK(places.targets[1].at == places.targets[2].at);
  CHECK(places.targets[3].at == places.targets[4].at);
  CHECK(places.targets[5].at != places.targets[4].at);
  REQUIRE(places.targets[6].at.size() == 2);
  CHECK(places.stations[places.targets[6].at[0]].kind == Kind::topped_out);
  CHECK(places.targets[6].at[1] == places.targets[0].at[0]);
}

TEST_CASE("the ends of the travel are the same place whatever they are called") {
  const std::vector<Target> targets = {at(Curve::leverage, {Kind::topped_out, 0.0}),
                                       at(Curve::leverage, {Kind::fraction, 0.0}),
                                       at(Curve::leverage, {Kind::bottomed, 0.0}),
                                       at(Curve::leverage, {Kind::fraction, 1.0}), over(Curve::leverage, 0.0, 1.0)};
  const Places places = plan_places(targets, 0);
  CHECK(places.targets[0].at == places.targets[1].at);
  CHECK(places.targets[2].at == places.targets[3].at);
  CHECK(places.targets[4].at.front() == places.targets[0].at[0]);
  CHECK(places.targets[4].at.back() == places.targets[2].at[0]);
  CHECK(places.stations.size() == static_cast<std::size_t>(places_per_travel) + 1);
}

TEST_CASE("a stretch has its share of places, both ends exactly") {
  for (const auto& [from, to] :
       std::vector<std::pair<double, double>>{{0.0, 1.0}, {0.2, 0.9}, {0.1, 0.15}, {0.3, 0.31}}) {
    INFO(from << " to " << to);
    const Places places = plan_places({over(Curve::rearward, from, to)}, 0);
    const TargetPlaces& of = places.targets[0];
    const auto intervals = std::max(1L, std::lround((to - from) * places_per_travel));
    REQUIRE(of.fractions.size() == static_cast<std::size_t>(intervals) + 1);
    REQUIRE(of.at.size() == of.fractions.size());
    CHECK(of.fractions.front() == from);
    CHECK(of.fractions.back() == to);
    for (std::size_t i = 1; i < of.fractions.size(); ++i) {
      CHECK(of.fractions[i] - of.fractions[i - 1] == within((to - from) / static_cast<double>(intervals), 1e-15));
      CHECK(of.at[i] != of.at[i - 1]);
    }
  }
}

TEST_CASE("two equal stretches share all their places") {
  const Places places = plan_places({over(Curve::leverage, 0.2, 0.9), over(Curve::anti_rise, 0.2, 0.9)}, 0);
  CHECK(places.targets[0].at == places.targets[1].at);
  CHECK(places.stations.size() == places.targets[0].at.size());
}

TEST_CASE("only the curves that a target looks at are wanted") {
  const Places leverage = plan_places({at(Curve::leverage, {Kind::sag, 0.0})}, 2);
  CHECK_FALSE(leverage.wanted[0].anti_rise);
  CHECK_FALSE(leverage.wanted[0].forces);
  CHECK_FALSE(leverage.wanted[0].centre);
  for (const auto& gear : leverage.wanted[0].gears) CHECK_FALSE((gear.growth || gear.anti_squat));

  const Places mixed =
      plan_places({at(Curve::anti_squat, {Kind::sag, 0.0}, 1), at(Curve::kickback, {Kind::sag, 0.0}, 0),
                   at(Curve::anti_rise, {Kind::sag, 0.0}), at(Curve::wheel_rate, {Kind::sag, 0.0})},
                  2);
  REQUIRE(mixed.wanted[0].gears.size() == 2);
  CHECK((mixed.wanted[0].gears[0].growth && !mixed.wanted[0].gears[0].anti_squat));
  CHECK((!mixed.wanted[0].gears[1].growth && mixed.wanted[0].gears[1].anti_squat));
  CHECK(mixed.wanted[0].anti_rise);
  CHECK(mixed.wanted[0].forces);
  CHECK_FALSE(mixed.wanted[0].centre);
}

TEST_CASE("a place wants what is looked at there, and places that are alike stand side by side") {
  const Places places = plan_places({at(Curve::anti_rise, {Kind::sag, 0.0}), over(Curve::leverage, 0.0, 0.2),
                                     at(Curve::anti_rise, {Kind::travel, 60.0}), at(Curve::leverage, {Kind::sag, 0.0})},
                                    0);
  REQUIRE(places.wanted.size() == places.stations.size());
  REQUIRE(places.alike.size() == places.stations.size());
  for (std::size_t k = 0; k < places.stations.size(); ++k) {
    const Kind kind = places.stations[k].kind;
    CHECK(places.wanted[k].anti_rise == (kind == Kind::sag || kind == Kind::travel));
  }
  // 60 mm, the stretch, and sag, at which both curves are looked at.
  CHECK(places.stations[places.alike.back()].kind == Kind::sag);
  std::size_t changes = 0;
  for (std::size_t i = 1; i < places.alike.size(); ++i)
    changes += places.wanted[places.alike[i]].anti_rise != places.wanted[places.alike[i - 1]].anti_rise ? 1 : 0;
  CHECK(changes == 2);
}

TEST_CASE("no targets, no places") {
  const Places places = plan_places({}, 1);
  CHECK(places.stations.empty());
  CHECK(places.targets.empty());
}
