// The driving run: growth against a taut chain measured from marks on the sprockets, rates against differences, and
// cases in closed form.
#include <algorithm>
#include <catch2/catch.hpp>

#include "bike/sprocket.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/force_line.hpp"
#include "tests/support/rider.hpp"

using namespace trammel;
using bike::Curve;
using test::Point;
using test::within;

namespace {

linkage::Mechanism topology(const std::string& name) {
  for (const auto& [key, mechanism] : test::every_topology())
    if (key == name) return mechanism;
  throw std::invalid_argument("no topology " + name);
}

/// A four-bar with an idler on one of its members.
bike::Layout with_idler(const std::string& member, const Point& at, bool over) {
  linkage::Mechanism m = topology("four-bar, axle on the coupler");
  m.point_names.push_back("idler");
  m.points.push_back(at);
  const int point = static_cast<int>(m.points.size()) - 1;
  m.members[static_cast<std::size_t>(test::member_named(m, member))].points.push_back(point);
  bike::Layout layout = test::bike_around(m);
  layout.drivetrain.idler = bike::Idler{16, point, over};
  return layout;
}

std::vector<std::pair<std::string, bike::Layout>> every_run() {
  return {{"no idler", test::bike_around(topology("four-bar, axle on the coupler"))},
          {"over, on the frame", with_idler("frame", {-70, 130}, true)},
          {"under, on the frame", with_idler("frame", {-150, 0}, false)},
          {"over, on the chainstay", with_idler("chainstay", {-90, 120}, true)},
          {"under, on the chainstay", with_idler("chainstay", {-150, 5}, false)},
          {"over, on the seatstay", with_idler("seatstay", {-250, 130}, true)},
          {"over, on the rocker", with_idler("rocker", {-80, 250}, true)}};
}

double angle(const Point& v) {
  return std::atan2(v.y, v.x);
}

/// Length of the run, by angles, between a mark behind the cog and a mark before the ring, both held to the frame:
/// the arc from the mark to where the chain leaves the cog, the spans, the wrap of the idler, the arc onto the ring.
double taut_length(const bike::Layout& layout, std::size_t gear, const std::vector<Point>& points) {
  const double cog = bike::pitch_radius(layout.drivetrain.gears[gear].cog);
  const double ring = bike::pitch_radius(layout.drivetrain.gears[gear].chainring);
  const Point axle = points[static_cast<std::size_t>(layout.axle.point)], bb{0, 0};
  const auto span = [](const Point& a, double ra, const Point& b, double rb) {
    const Point d = b - a;
    return std::sqrt(dot(d, d) - (ra - rb) * (ra - rb));
  };
  // The chain comes clockwise over the cog from its mark at 180° and runs clockwise over the ring to its mark at 0°;
  // it touches a circle a quarter turn before the span's direction.
  const auto on_cog = [&](double span_angle) { return cog * (math::pi - (span_angle + math::pi / 2)); };
  const auto on_ring = [&](double span_angle) { return ring * (span_angle + math::pi / 2); };
  const auto& idler = layout.drivetrain.idler;
  if (!idler) {
    const double direction = angle(test::chain_line(axle, cog, bb, ring).direction);
    return on_cog(direction) + span(axle, cog, bb, ring) + on_ring(direction);
  }
  const Point at = points[static_cast<std::size_t>(idler->point)];
  const double radius = bike::pitch_radius(idler->teeth), counted = idler->over ? radius : -radius;
  const double first = angle(test::chain_line(axle, cog, at, counted).direction);
  const double second = angle(test::chain_line(at, counted, bb, ring).direction);
  const double wrap = radius * (idler->over ? first - second : second - first);
  return on_cog(first) + span(axle, cog, at, counted) + wrap + span(at, counted, bb, ring) + on_ring(second);
}

}  // namespace

TEST_CASE("chain growth is the change of a taut chain between marks on cog and ring") {
  for (const auto& [name, layout] : every_run()) {
    INFO(name);
    const bike::Motion motion = bike::trace(layout, 6, false);
    for (std::size_t g = 0; g < layout.drivetrain.gears.size(); ++g) {
      const std::string gear = "[" + layout.drivetrain.gears[g].name() + "]";
      const auto growth = test::column(motion.table, "chain_growth_mm" + gear);
      const auto kickback = test::column(motion.table, "kickback_deg" + gear);
      const double drawn = taut_length(layout, g, motion.poses.front().points);
      const double ring = bike::pitch_radius(layout.drivetrain.gears[g].chainring);
      CHECK(growth.front() == within(0.0, 1e-12));
      for (std::size_t i = 0; i < growth.size(); ++i) {
        INFO(gear << " at station " << i);
        CHECK(growth[i] == within(taut_length(layout, g, motion.poses[i].points) - drawn, 1e-10));
        // Pulled by its growth, the crank turns back by growth/rc: the same arc of chain on the ring.
        CHECK(math::radians(kickback[i]) * ring == within(growth[i], 1e-12));
      }
      CHECK(*std::max_element(growth.begin(), growth.end()) - *std::min_element(growth.begin(), growth.end()) > 0.05);
    }
  }
}

TEST_CASE("the locked crank turns the wheel by exactly the chain that the run would grow") {
  // Power: over a small motion a chain that cannot stretch takes rg·(wheel turn) out of the cog for what the spans and
  // wraps give up, so d(growth)/ds = −rg·ω. The left side is a difference of growths, the right the rate that
  // anti-squat uses.
  for (const auto& [name, layout] : every_run()) {
    INFO(name);
    test::Rider rider(layout);
    const double h = 1e-3;
    for (double fraction : {0.1, 0.5, 0.9}) {
      const double s = fraction * rider.range();
      for (std::size_t g = 0; g < layout.drivetrain.gears.size(); ++g) {
        const double before = rider.at(s - h).chain_growth[g], after = rider.at(s + h).chain_growth[g];
        rider.at(s);
        const linkage::State<double>& state = rider.sweep().state();
        const auto p = static_cast<std::size_t>(layout.axle.point);
        const bool has = layout.drivetrain.idler.has_value();
        const auto i = has ? static_cast<std::size_t>(layout.drivetrain.idler->point) : p;
        const bike::ChainCircles& circles = rider.model().circles[g];
        const auto run = bike::chain_run(circles, state.position[p], state.position[i]);
        const double speed = bike::taken_up(circles, run, state.velocity[p], state.velocity[i]);
        CHECK(-speed == within((after - before) / (2.0 * h), 1e-7));
      }
    }
  }
}

TEST_CASE("a pivot on the bottom bracket: no growth with equal sprockets, a closed form with others") {
  bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                              .point("main", 0, 0)
                                              .point("axle", -435, 20)
                                              .point("eye", -60, 150)
                                              .point("mount", 140, 190)
                                              .member("frame", {"main", "mount"})
                                              .member("swingarm", {"main", "axle", "eye"})
                                              .shock("mount", "eye", 50)
                                              .build());
  layout.drivetrain.gears = {{32, 32}, {32, 12}};
  const bike::Motion motion = bike::trace(layout, 9, false);
  const auto equal = test::column(motion.table, "kickback_deg[32x32]");
  const auto growth = test::column(motion.table, "chain_growth_mm[32x12]");
  const double difference = bike::pitch_radius(32) - bike::pitch_radius(12);
  for (std::size_t i = 0; i < equal.size(); ++i) {
    CHECK(equal[i] == within(0.0, 1e-11));
    // The whole run turns with the arm about the bottom bracket and only winds: (rc − rg)·(arm's turn).
    const Point drawn = motion.poses.front().points[1], now = motion.poses[i].points[1];
    const double turned = std::atan2(cross(drawn, now), dot(drawn, now));
    CHECK(growth[i] == within(difference * turned, 1e-10));
  }
  CHECK(growth.back() < -1.0);
}

TEST_CASE("an idler on the main pivot leaves only what winds on idler and cog") {
  // The first span turns with the arm, the second stands still: growth = (ri − rg)·(arm's turn), for either side.
  for (bool over : {true, false}) {
    bike::Layout layout = test::bike_around(topology("single pivot"));
    layout.drivetrain.idler = bike::Idler{16, test::point_named(layout.mechanism, "main"), over};
    layout.drivetrain.gears = {{20, 20}};  // a larger chainring leaves no room to run under the idler
    const bike::Motion motion = bike::trace(layout, 7, false);
    const auto growth = test::column(motion.table, "chain_growth_mm[20x20]");
    const double idler = bike::pitch_radius(16) * (over ? 1.0 : -1.0);
    for (std::size_t i = 0; i < growth.size(); ++i) {
      const auto& now = motion.poses[i].points;
      const Point arm = now[1] - now[0], drawn = motion.poses.front().points[1] - motion.poses.front().points[0];
      const double turned = std::atan2(cross(drawn, arm), dot(drawn, arm));
      CHECK(growth[i] == within((idler - bike::pitch_radius(20)) * turned, 1e-10));
    }
  }
}

namespace {

std::string failure_of(const bike::Layout& layout) {
  try {
    bike::trace(layout, 5, false);
  } catch (const bike::MotionFailure& failure) {
    return failure.text;
  }
  return "";
}

}  // namespace

TEST_CASE("an idler under which no chain can run is refused by name, with the distance that it takes") {
  using Catch::Matchers::Contains;
  const double ring = bike::pitch_radius(32), cog = bike::pitch_radius(50), idler = bike::pitch_radius(16);
  // Axes 72.8 mm apart, where a chain that crosses between the circles takes the sum of their radii.
  const std::string near_ring = failure_of(with_idler("frame", {-70, 20}, false));
  INFO(near_ring);
  REQUIRE(std::hypot(70.0, 20.0) < ring + idler);
  CHECK_THAT(near_ring, Contains("the chain between idler and chainring cannot run"));
  CHECK_THAT(near_ring, Contains("72.8 mm apart") && Contains("more than 97.3 mm"));
  CHECK(ring + idler == within(97.3, 0.05));
  // On the other side of the chain it takes no more than the difference.
  CHECK(failure_of(with_idler("frame", {-70, 20}, true)).empty());
  CHECK_THAT(failure_of(with_idler("frame", {-20, 20}, true)),
             Contains("the chain between idler and chainring cannot run") && Contains("the difference of"));

  const std::string near_cog = failure_of(with_idler("seatstay", {-340, 60}, false));
  INFO(near_cog);
  REQUIRE(std::hypot(97.0, 30.0) < cog + idler);
  CHECK_THAT(near_cog, Contains("the chain between idler and cog cannot run"));
  // In the small cog's gear alone there is room.
  bike::Layout small = with_idler("seatstay", {-340, 60}, false);
  small.drivetrain.gears = {{32, 18}};
  REQUIRE(std::hypot(97.0, 30.0) > bike::pitch_radius(18) + idler);
  CHECK(failure_of(small).empty());
}

TEST_CASE("an idler that comes too near on the way: where, and by how much less the farther") {
  const bike::Layout layout = with_idler("chainstay", {80, 72}, false);
  const double least = bike::pitch_radius(32) + bike::pitch_radius(16);
  bike::Layout without_chain = layout;  // it moves all the way
  without_chain.drivetrain.gears.clear();
  const bike::Motion motion = bike::trace(without_chain, 2001, false);
  const auto idler = static_cast<std::size_t>(layout.drivetrain.idler->point);
  const auto near = std::find_if(motion.poses.begin(), motion.poses.end(),
                                 [&](const bike::Pose& pose) { return norm(pose.points[idler]) < least; });
  REQUIRE(near != motion.poses.begin());
  REQUIRE(near != motion.poses.end());
  const std::string text = failure_of(layout);
  INFO(text);
  const std::string start = "stops at ";
  REQUIRE(text.starts_with(start));
  // It stops where the span is a hundredth of the distance, 5 µm before.
  CHECK(std::stod(text.substr(start.size())) == within(near->travel, 0.15));

  const bike::ChainSpan span{false, least};
  double last = 1.0;
  for (double apart = 400.0; apart > 1.0; apart *= 0.97) {
    const double margin = bike::span_margin(span, Point{-400, 0}, Point{0, apart});
    CHECK(margin < last);
    CHECK((margin > 0.0) == (apart > least));
    // The share of the squared distance that is left for the straight span (Pythagoras).
    if (margin > 0.0) CHECK(margin * apart * apart == within(apart * apart - least * least, 1e-9 * apart * apart));
    last = margin;
  }
}
