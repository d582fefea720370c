// Both runs of the chain against the length of an open belt, and the chain's distance from points by looking along it.
#include "bike/chain_room.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "bike/model.hpp"
#include "bike/sprocket.hpp"
#include "bike/table.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using bike::ChainCircles;
using bike::Vec2;

namespace {

/// Open belt over two pulleys (Machinery's Handbook, belts: length; from memory).
double belt(double large, double small, double distance) {
  const double lean = (large - small) / distance;
  return 2.0 * std::sqrt(distance * distance - (large - small) * (large - small)) + math::pi * (large + small) +
         2.0 * (large - small) * std::asin(lean);
}

}  // namespace

TEST_CASE("growth of both runs is that of an open belt around cog and chainring") {
  const Vec2<double> none{0.0, 0.0}, drawn{-435.0, 25.0};
  for (const int cog : {10, 32, 51}) {
    const ChainCircles c{bike::pitch_radius(cog), 0.0, bike::pitch_radius(32), false};
    const auto driving = bike::chain_run(c, drawn, none);
    for (const Vec2<double> axle : {Vec2<double>{-441.0, 80.0}, {-446.0, 150.0}, {-420.0, 190.0}}) {
      const double large = std::max(c.cog, c.ring), small = std::min(c.cog, c.ring);
      const double expected = belt(large, small, norm(axle)) - belt(large, small, norm(drawn));
      CHECK(bike::total_chain_growth(c, driving, {drawn, none, none}, {axle, none, none}) ==
            test::within(expected, 1e-9));
    }
  }
}

namespace {

/// Length of a belt around circles: the perimeter of their convex hull by Cauchy's formula, the integral of the support
/// function over all directions (Santaló, Integral Geometry and Geometric Probability, ch. 1; from memory).
double belt_around(const std::vector<std::pair<Vec2<double>, double>>& circles) {
  constexpr int steps = 400000;
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double angle = 2.0 * math::pi * (i + 0.5) / steps;
    double most = -1e9;
    for (const auto& [centre, radius] : circles)
      most = std::max(most, centre.x * std::cos(angle) + centre.y * std::sin(angle) + radius);
    sum += most;
  }
  return sum * 2.0 * math::pi / steps;
}

}  // namespace

TEST_CASE("growth of both runs with a roller on the slack run is that of a belt around three circles") {
  const Vec2<double> none{0.0, 0.0}, drawn{-435.0, 25.0};
  // Inside the loop, pushing it down: the chain runs under it.
  const double radius = bike::pitch_radius(12);
  const ChainCircles c{bike::pitch_radius(24), 0.0, bike::pitch_radius(32), false, -radius, true};
  const auto driving = bike::chain_run(c, drawn, none);
  const Vec2<double> still{-120.0, -90.0};
  const auto length = [&](const Vec2<double>& axle, const Vec2<double>& roller) {
    return belt_around({{axle, c.cog}, {{0.0, 0.0}, c.ring}, {roller, radius}});
  };
  for (const Vec2<double> axle : {Vec2<double>{-441.0, 80.0}, {-446.0, 120.0}})
    // On the frame, and on a member that moves.
    for (const Vec2<double> roller : {still, Vec2<double>{-124.0, -80.0}}) {
      const double expected = length(axle, roller) - length(drawn, still);
      // The midpoint rule has errors of step² at the corners of the support function.
      CHECK(bike::total_chain_growth(c, driving, {drawn, none, still}, {axle, none, roller}) ==
            test::within(expected, 1e-6));
      CHECK(std::abs(expected - (length(axle, axle) - length(drawn, drawn))) > 1.0);  // the roller matters
    }
}

TEST_CASE("distance from the chain is the least over the straight spans") {
  const ChainCircles c{bike::pitch_radius(24), -bike::pitch_radius(14), bike::pitch_radius(34), true};
  const Vec2<double> axle{-435.0, 20.0}, idler{-130.0, -5.0};
  const std::vector<Vec2<double>> points{{-300.0, 120.0}, {-60.0, 20.0}, {40.0, 200.0}, {-500.0, 60.0}};
  const auto run = bike::chain_run(c, axle, idler);
  for (std::size_t i = 0; i < points.size(); ++i) {
    double least = 1e9;
    const auto walk = [&](const bike::Span<double>& span, const Vec2<double>& centre, double radius) {
      for (int k = 0; k <= 20000; ++k) {
        const auto on = centre + perp(span.along) * radius + span.along * (span.length * k / 20000.0);
        least = std::min(least, norm(points[i] - on));
      }
    };
    walk(run.spans[0], axle, c.cog);
    walk(run.spans[1], idler, c.idler);
    // Steps of 20 µm.
    CHECK(bike::chain_clearance(c, axle, idler, {static_cast<int>(i)}, points) == test::within(least, 1e-4));
  }
  CHECK(bike::chain_clearance(c, axle, idler, {}, points) == bike::no_chain_near);
}

TEST_CASE("no kickback where the pivot is the chainring's axis and the sprockets are alike") {
  const auto m = test::MechanismBuilder()
                     .point("main", 0, 0)
                     .point("axle", -435, 20)
                     .point("eye", -60, 190)
                     .point("mount", 140, 230)
                     .member("frame", {"main", "mount"})
                     .member("swingarm", {"main", "axle", "eye"})
                     .shock("mount", "eye", 55)
                     .build();
  bike::Layout layout = test::bike_around(m);
  layout.drivetrain.gears = {{32, 32}, {32, 18}};
  const bike::Motion motion = bike::trace(layout, 9, true);
  double other = 0.0;
  for (const double kickback : test::column(motion.table, "kickback_deg[32x32]"))
    CHECK(kickback == test::within(0.0, 1e-10));
  for (const double total : test::column(motion.table, "total_chain_growth_mm[32x32]"))
    CHECK(total == test::within(0.0, 1e-10));
  // With another cog the chain rolls off one sprocket and onto the other.
  for (const double kickback : test::column(motion.table, "kickback_deg[32x18]"))
    other = std::max(other, std::abs(kickback));
  CHECK(other > 1.0);
}

TEST_CASE("without a list the chain is watched from every pivot and eye but axle and idler") {
  bike::Layout layout = test::bike_around(test::every_topology()[2].second);
  const bike::Model model = bike::make_model(layout);
  for (const int point : model.clear_of) CHECK(point != layout.axle.point);
  CHECK(model.clear_of.size() == 6);  // main, stay, tail, rocker, and both eyes
  layout.drivetrain.clear_of = {0};
  CHECK(bike::make_model(layout).clear_of == std::vector<int>{0});
}

TEST_CASE("a roller too near to cog or chainring for a chain to run does not assemble, and is named") {
  const auto message = [](bool over, double distance) -> std::string {
    bike::Layout layout = test::bike_around(test::every_topology()[0].second);
    layout.drivetrain.gears = {{32, 18}};
    auto& m = layout.mechanism;
    m.point_names.emplace_back("guide");
    m.points.push_back({0.0, -distance});
    m.members[static_cast<std::size_t>(m.frame)].points.push_back(static_cast<int>(m.points.size()) - 1);
    layout.drivetrain.roller = bike::Idler{12, static_cast<int>(m.points.size()) - 1, over};
    try {
      bike::trace(layout, 5, true);
      return "";
    } catch (const bike::MotionFailure& failure) {
      return failure.text;
    }
  };
  // The slack run goes under the chainring: under a roller beneath it the radii differ, over it they add up.
  const double ring = bike::pitch_radius(32), roller = bike::pitch_radius(12);
  CHECK(message(false, ring - roller + 2.0).empty());
  CHECK(message(false, ring - roller - 2.0).find("the chain between roller and chainring cannot run") !=
        std::string::npos);
  CHECK(message(false, ring - roller - 2.0).find("the difference of their pitch radii") != std::string::npos);
  CHECK(message(true, ring + roller + 2.0).empty());
  CHECK(message(true, ring + roller - 2.0).find("under the roller") == std::string::npos);
  CHECK(message(true, ring + roller - 2.0).find("the sum of their pitch radii") != std::string::npos);
}
