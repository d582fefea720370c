// Set-up against a balance of moments done by hand, and against the spring's own force at the place of rest.
#include "bike/set_up.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bike/reading.hpp"
#include "bike/table.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/force_line.hpp"
#include "tests/support/springs.hpp"

using namespace trammel;

namespace {

bike::Layout ridden(const spring::Spring& spring) {
  bike::Layout layout = test::bike_around(test::every_topology()[2].second);
  layout.mass = bike::Masses{78.0, 15.0, 4.0, 3.0};
  layout.sag = {0.3, bike::SagOf::wheel};
  layout.shock->spring = spring;
  return layout;
}

/// Rear load by moments about the front contact of the whole standing bike, the rear unsprung mass then taken off.
double by_hand(const bike::Layout& layout, double rider, double travel) {
  const bike::Pose pose = bike::pose_at_travel(layout, travel);
  const auto rear = pose.points[static_cast<std::size_t>(layout.axle.point)];
  const test::Road road(rear, pose.front_axle, layout.rear_radius, layout.front_radius);
  // The centre of gravity is fixed to the frame; its height was given topped out, where this bike stands on level
  // axles.
  const double y = layout.cg.height - layout.rear_radius + 30.0;
  const bike::Point cg{layout.cg.x, y};
  const auto& m = *layout.mass;
  const double g = 9.80665;
  const double sprung = rider + m.bike - m.rear_unsprung - m.front_unsprung;
  const double moments = sprung * dot(road.front - cg, road.along) + m.rear_unsprung * road.wheelbase;
  return g * (moments / road.wheelbase - m.rear_unsprung);
}

}  // namespace

TEST_CASE("the rear load is the balance of moments on the ground") {
  const bike::Layout layout = ridden(spring::Coil{80.0, 0.0});
  for (const double travel : {0.0, 20.0, 48.0})
    for (const double rider : {55.0, 95.0})
      CHECK(bike::static_load(layout, rider, travel).wheel == test::within(by_hand(layout, rider, travel), 1e-7));
}

TEST_CASE("the shock's load is the rear load's by the work of a small movement") {
  const bike::Layout layout = ridden(spring::Coil{80.0, 0.0});
  const bike::Motion motion = bike::trace(layout, 5, true);
  const auto& pose = motion.poses[1];
  const bike::StaticLoad load = bike::static_load(layout, 78.0, pose.travel);
  // The contact rises across the ground; with the frame pitched this differs a little from leverage.
  const bike::Pose after = bike::pose_at_travel(layout, pose.travel + 1e-3),
                   before = bike::pose_at_travel(layout, pose.travel - 1e-3);
  const auto axle = static_cast<std::size_t>(layout.axle.point);
  const bike::Point normal{-pose.ground.y, pose.ground.x};
  const double lever = dot(normal, after.points[axle] - before.points[axle]) / (after.shock - before.shock);
  CHECK(load.shock == test::relative(load.wheel * lever, 1e-7));
}

TEST_CASE("the coil rate asked for holds every rider at the wanted sag, of wheel or of shock") {
  for (const auto of : {bike::SagOf::wheel, bike::SagOf::shock}) {
    bike::Layout layout = ridden(spring::Coil{80.0, 1.5});
    layout.sag.of = of;
    layout.set_up.riders = {55.0, 78.0, 110.0};
    const auto rows = bike::set_up(layout);
    REQUIRE(rows.size() == 3);
    double last = 0.0;
    for (const bike::SetUpRow& row : rows) {
      CHECK(row.wanted > last);
      last = row.wanted;
      CHECK_FALSE(row.offered);
      CHECK(row.sag == test::within(0.3, 1e-9));
      CHECK(row.fits);
      layout.shock->spring = spring::Coil{row.wanted, 1.5};
      const double travel = bike::sag_travel(layout);
      const bike::Pose pose = bike::pose_at_travel(layout, travel);
      CHECK(row.wanted * (pose.shock + 1.5) ==
            test::relative(bike::static_load(layout, row.rider, travel).shock, 1e-9));
    }
  }
}

TEST_CASE("the curves of what set-up asks for are its figures at the wanted sag, for every rider") {
  const spring::Air air{.bore = 46.0,
                        .shaft = 10.0,
                        .positive = 165.0,
                        .negative = 62.0,
                        .transfer = 5.0,
                        .pressure = 12.0,
                        .spacer = 10.0,
                        .spacers = 1};
  for (const auto of : {bike::SagOf::wheel, bike::SagOf::shock})
    for (const bool coil : {true, false}) {
      bike::Layout layout = ridden(spring::Coil{80.0, 1.5});
      if (!coil) layout.shock->spring = air;
      layout.shock->spring->bump_stop = spring::BumpStop{50.0, 900.0};  // so long that it works at sag
      layout.sag.of = of;
      layout.set_up.riders = {55.0, 78.0, 110.0};
      const double sag = bike::sag_travel(layout);
      const bike::Curve curve = coil ? bike::Curve::set_up_rate : bike::Curve::set_up_pressure;
      for (const bike::SetUpRow& row : bike::set_up(layout)) {
        bike::CurveKey key{curve};
        key.rider = row.rider;
        const bike::Motion motion = bike::trace(layout, 401, false, {key});
        // By straight lines between 401 stations.
        CHECK(bike::value_at(motion.table, key, sag).value() == test::relative(row.wanted, 1e-4));
        // With that spring the bike rests there: 100 % of what the rider's weight asks for.
        bike::Layout set = layout;
        if (coil)
          std::get<spring::Coil>(set.shock->spring->kind).rate = row.wanted;
        else
          std::get<spring::Air>(set.shock->spring->kind).pressure = row.wanted;
        bike::CurveKey support{bike::Curve::spring_support};
        support.rider = row.rider;
        CHECK(bike::value_at(bike::trace(set, 401, false, {support}).table, support, sag).value() ==
              test::relative(100.0, 1e-4));
      }
    }
}

TEST_CASE("of coils on offer the one nearest in sag is named, with how far off it is") {
  bike::Layout layout = ridden(spring::Coil{80.0, 0.0});
  layout.set_up.riders = {78.0, 140.0};
  const double exact = bike::set_up(layout).front().wanted;
  layout.set_up.coil_rates = {exact * 0.8, exact * 1.01, exact * 1.2};
  const auto rows = bike::set_up(layout);
  CHECK(*rows[0].offered == exact * 1.01);
  CHECK(rows[0].sag_off < 0.0);
  CHECK(rows[0].fits);
  // The heavy rider has no coil: the stiffest is nearest, and it sits too deep.
  CHECK(*rows[1].offered == exact * 1.2);
  CHECK_FALSE(rows[1].fits);
  CHECK(rows[1].sag_off > 0.02);
  CHECK(rows[1].sag == test::within(0.3 + rows[1].sag_off, 1e-12));
}

TEST_CASE("the pressure asked for holds the rider slowly, whatever the exponent of a stroke") {
  bike::Layout layout = ridden(test::air_spring());
  const bike::SetUpRow row = bike::set_up(layout).front();
  spring::Air pumped = test::air_spring();
  pumped.pressure = row.wanted;
  const double travel = bike::sag_travel(layout);
  const bike::Pose pose = bike::pose_at_travel(layout, travel);
  CHECK(pumped.force(pose.shock, 1.0) == test::relative(bike::static_load(layout, 78.0, travel).shock, 1e-9));
  CHECK(row.sag == test::within(0.3, 1e-9));
  pumped.exponent = 1.1;
  layout.shock->spring = pumped;
  CHECK(bike::set_up(layout).front().wanted == test::relative(row.wanted, 1e-12));
}

TEST_CASE("a pressure beyond the pump's range is cut, and the sag tells") {
  bike::Layout layout = ridden(test::air_spring());
  const double wanted = bike::set_up(layout).front().wanted;
  layout.set_up.pressures = {1.0, 0.8 * wanted};
  const bike::SetUpRow row = bike::set_up(layout).front();
  CHECK(*row.offered == 0.8 * wanted);
  CHECK(row.wanted == test::relative(wanted, 1e-12));
  CHECK_FALSE(row.fits);
  CHECK(row.sag_off > 0.02);
}

TEST_CASE("as many spacers as the landing asks for, and no more") {
  bike::Layout layout = ridden(test::air_spring());
  layout.set_up.most_spacers = 6;
  layout.loads.landing = 1.0;
  const bike::SetUpRow none = bike::set_up(layout).front();
  CHECK(none.spacers == 0);
  layout.loads.landing = none.bottom_force * 1.15;
  const bike::SetUpRow some = bike::set_up(layout).front();
  CHECK(some.spacers > 0);
  CHECK(*some.bottom_margin >= 0.0);
  // One fewer would bottom out.
  spring::Air fewer = test::air_spring();
  layout.set_up.most_spacers = 0;
  fewer.spacers = some.spacers - 1;
  layout.shock->spring = fewer;
  CHECK(*bike::set_up(layout).front().bottom_margin < 0.0);
  // When nothing helps, the most that fit are named with the margin that is left.
  layout.shock->spring = test::air_spring();
  layout.set_up.most_spacers = 6;
  layout.loads.landing = 1e6;
  const bike::SetUpRow most = bike::set_up(layout).front();
  CHECK(most.spacers == 6);
  CHECK(*most.bottom_margin < 0.0);
}

TEST_CASE("the landing load of another rider grows with the sprung mass") {
  bike::Layout layout = ridden(spring::Coil{80.0, 0.0});
  layout.set_up.riders = {78.0, 100.0};
  layout.set_up.coil_rates = {80.0};
  layout.loads.landing = 1500.0;
  const auto rows = bike::set_up(layout);
  CHECK(rows[0].bottom_force == rows[1].bottom_force);
  CHECK(*rows[0].bottom_margin == test::within(100.0 * (rows[0].bottom_force / 1500.0 - 1.0), 1e-9));
  CHECK(*rows[1].bottom_margin == test::within(100.0 * (rows[1].bottom_force / (1500.0 * 108.0 / 86.0) - 1.0), 1e-9));
}

TEST_CASE("friction lets the bike rest on either side of its sag") {
  spring::Spring sticky(spring::Coil{80.0, 0.0});
  sticky.breakaway = 60.0;
  bike::Layout layout = ridden(sticky);
  const bike::SetUpRow row = bike::set_up(layout).front();
  CHECK(row.least_sag < row.sag);
  CHECK(row.greatest_sag > row.sag);
  layout.sag.of = bike::SagOf::shock;
  const bike::SetUpRow shock = bike::set_up(layout).front();
  // A coil: 60 N on either side, and the load is nearly the same there.
  const double width = 2.0 * 60.0 / shock.wanted / layout.shock->stroke;
  CHECK(shock.greatest_sag - shock.least_sag == test::relative(width, 0.1));
}

TEST_CASE("a measured spring is taken as it is, a weak one bottoms and a strong one stays up") {
  const auto row_with = [](double rate) {
    return bike::set_up(ridden(spring::Table({{0, 0}, {30, 30 * rate}, {60, 60 * rate}}))).front();
  };
  const double rate = bike::set_up(ridden(spring::Coil{80.0, 0.0})).front().wanted;
  CHECK(row_with(rate).sag == test::within(0.3, 1e-9));
  CHECK(row_with(rate).wanted == 0.0);
  CHECK(row_with(0.05 * rate).sag == test::within(1.0, 1e-9));
  bike::Layout strong = ridden(spring::Table({{0, 9000}, {60, 9500}}));
  CHECK(bike::set_up(strong).front().sag == 0.0);
}

TEST_CASE("without masses or a spring there is nothing to set up") {
  bike::Layout layout = ridden(spring::Coil{80.0, 0.0});
  layout.mass.reset();
  CHECK(bike::set_up(layout).empty());
  layout = ridden(spring::Coil{80.0, 0.0});
  layout.shock->spring.reset();
  CHECK(bike::set_up(layout).empty());
}
