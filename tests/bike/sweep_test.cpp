// Finding the place in the stroke for a wheel travel, and its derivatives.
#include <catch2/catch.hpp>

#include "math/dual.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/rider.hpp"

using namespace trammel;
using bike::Curve;
using test::within;

TEST_CASE("the driving coordinate at a travel is exact to rounding, every topology") {
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    test::Rider rider(test::bike_around(mechanism), 40);
    const double whole = rider.sweep().whole_travel();
    for (int i = 1; i < 50; ++i) {
      const double wanted = whole * i / 50.0;
      const double s = rider.sweep().driving_at(wanted);
      INFO("travel " << wanted << " of " << whole << ", found " << s);
      CHECK(rider.curve(s, Curve::travel) == within(wanted, 1e-11 * whole));
    }
    CHECK(rider.sweep().driving_at(0.0) == within(0.0, 1e-11 * std::abs(rider.range())));
    CHECK(rider.sweep().driving_at(whole) == within(rider.range(), 1e-11 * std::abs(rider.range())));
    // Outside the travel it stays at the ends.
    CHECK(rider.sweep().driving_at(-10.0) == within(0.0, 1e-12));
    CHECK(rider.sweep().driving_at(whole + 10.0) == within(rider.range(), 1e-12));
  }
}

TEST_CASE("a drive that turns backwards: the wheel rises as the arm turns clockwise") {
  const bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                    .point("main", 10, 80)
                                                    .point("axle", -435, 20)
                                                    .member("frame", {"main"})
                                                    .member("swingarm", {"main", "axle"})
                                                    .turn("swingarm", -0.3)
                                                    .build());
  test::Rider rider(layout, 20);
  // The arm points back and down at angle φ: rise = R·(sin(φ + s) − sin φ).
  const double radius = std::hypot(445.0, 60.0), drawn = std::atan2(-60.0, -445.0);
  const double whole = radius * (std::sin(drawn - 0.3) - std::sin(drawn));
  CHECK(rider.sweep().whole_travel() == within(whole, 1e-10));
  for (double travel : {5.0, 60.0, 120.0}) {
    const double s = rider.sweep().driving_at(travel);
    CHECK(radius * (std::sin(drawn + s) - std::sin(drawn)) == within(travel, 1e-10));
  }
}

TEST_CASE("curves at a travel, differentiated by the drawn points") {
  // The chain of derivatives through the march, the search for the place and the curves themselves.
  using Dual = math::Dual<16>;
  for (const auto& [name, mechanism] : test::every_topology()) {
    INFO(name);
    bike::Layout layout = test::bike_around(mechanism);
    if (layout.shock) layout.shock->spring = spring::Coil{80.0, 1.0};
    const bike::Model model = bike::make_model(layout);
    const bike::Wanted gears = bike::Wanted::everything(2);
    const double wanted = 60.0;

    bike::Sweep<Dual> exact(model, 24);
    std::vector<math::Vec2<Dual>> points;
    for (std::size_t i = 0; i < mechanism.points.size(); ++i) {
      const linkage::Point& p = mechanism.points[i];
      const auto x = static_cast<int>(2 * i);
      points.push_back(x < 16 ? math::Vec2<Dual>{Dual::variable(p.x, x), Dual::variable(p.y, x + 1)}
                              : math::constant<Dual>(p));
    }
    exact.march(points, [](std::size_t, const linkage::State<Dual>&) {});
    const bike::StationValues<Dual> found = exact.at(exact.driving_at(Dual(wanted)), gears);

    const auto plain = [&](std::size_t coordinate, double by) {
      auto moved = layout.mechanism.points;
      (coordinate % 2 == 0 ? moved[coordinate / 2].x : moved[coordinate / 2].y) += by;
      bike::Sweep<double> sweep(model, 24);
      sweep.march(moved, [](std::size_t, const linkage::State<double>&) {});
      return bike::StationValues<double>(sweep.at(sweep.driving_at(wanted), gears));
    };
    const double h = 1e-3;
    for (std::size_t c = 0; c < std::min<std::size_t>(16, 2 * mechanism.points.size()); ++c) {
      INFO("by " << mechanism.point_names[c / 2] << (c % 2 == 0 ? ".x" : ".y"));
      const auto less = plain(c, -h), more = plain(c, h);
      const std::size_t lane = c;
      const auto check = [&](const Dual& of, double low, double high) {
        const double difference = (high - low) * (0.5 / h);
        CHECK(of.d[lane] == within(difference, 2e-6 * (1.0 + std::abs(difference) + 1e-3 * std::abs(of.v))));
      };
      for (Curve curve :
           {Curve::travel, Curve::axle_x, Curve::shock, Curve::leverage, Curve::chainstay_growth, Curve::pitch,
            Curve::wheelbase, Curve::cg_height, Curve::anti_rise, Curve::wheel_force, Curve::wheel_rate}) {
        INFO(bike::record(curve).key);
        check(found[curve], less[curve], more[curve]);
      }
      for (std::size_t g = 0; g < gears.gears.size(); ++g) {
        INFO("gear " << g);
        check(found.chain_growth[g], less.chain_growth[g], more.chain_growth[g]);
        check(found.anti_squat[g], less.anti_squat[g], more.anti_squat[g]);
      }
    }
  }
}
