// Anti-squat and anti-rise of a single pivot.
//
// No worked numeric example with complete inputs could be found in print. The figures below were computed for this
// purpose by three separate programs that agree to 1e-7: the squat-angle construction of Cossalter, Motorcycle
// Dynamics, 2nd ed. (2006), ch. 6 (from memory: squat ratio = tan τ/tan σ, so anti-squat = 100/ratio); the balance of
// moments about the pivot with the chain's pull and the load transfer; and the rolling of the contact point with the
// crank locked.
#include <catch2/catch.hpp>

#include "bike/anti.hpp"
#include "bike/chain.hpp"
#include "bike/sprocket.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"

using namespace trammel;
using math::Vec2;
using test::printed;

namespace {

/// Everything in the table's own axes: ground y = 0, rear contact (0, 0).
struct Case {
  Vec2<double> axle, pivot, ring;
  double radius, wheelbase, height;
  int ring_teeth, cog_teeth;
  double pitch;
  double r1, r2;
  Vec2<double> crossing;
  double sigma, tau;  // degrees
  double anti_squat, ratio, anti_rise;
};

const Case cases[] = {
    {{0, 350},
     {450, 420},
     {430, 340},
     350,
     1200,
     1100,
     32,
     10,
     12.7,
     64.784587,
     20.549032,
     {272.644633, 392.411387},
     55.208703,
     42.510447,
     157.012132,
     0.636893,
     101.818182},
    {{0, 350},
     {450, 420},
     {430, 340},
     350,
     1200,
     1100,
     32,
     20,
     12.7,
     64.784587,
     40.592078,
     {331.493195, 401.565608},
     50.460260,
     42.510447,
     132.151000,
     0.756710,
     101.818182},
    {{0, 350},
     {450, 420},
     {430, 340},
     350,
     1200,
     1100,
     32,
     52,
     12.7,
     64.784587,
     105.169891,
     {387.362850, 410.256443},
     46.644075,
     42.510447,
     115.538308,
     0.865514,
     101.818182},
    {{0, 300},
     {520, 360},
     {600, 370},
     300,
     1400,
     650,
     16,
     42,
     15.875,
     40.686283,
     106.215577,
     {984.083736, 413.548123},
     22.793934,
     24.904769,
     90.512525,
     1.104819,
     149.112426},
};

}  // namespace

TEST_CASE("single-pivot table: chain line, squat angle, anti-squat and anti-rise from the formulas alone") {
  for (const Case& c : cases) {
    INFO(c.ring_teeth << "/" << c.cog_teeth);
    const double r1 = bike::pitch_radius(c.ring_teeth, c.pitch), r2 = bike::pitch_radius(c.cog_teeth, c.pitch);
    CHECK(r1 == printed(c.r1, 6));
    CHECK(r2 == printed(c.r2, 6));

    // The chainring is the origin of frame axes.
    const Vec2<double> axle = c.axle - c.ring, pivot = c.pivot - c.ring;
    const bike::ChainCircles circles{r2, 0.0, r1, false};
    const auto run = bike::chain_run(circles, axle, Vec2<double>{});
    // The chain line passes at the cog's radius above the axle; where it crosses the line axle–pivot:
    const Vec2<double> on_chain = axle + perp(run.spans[0].along) * r2;
    const double reach = cross(run.spans[0].along, on_chain - axle) / cross(run.spans[0].along, pivot - axle);
    const Vec2<double> crossing = axle + (pivot - axle) * reach + c.ring;
    CHECK(crossing.x == printed(c.crossing.x, 6));
    CHECK(crossing.y == printed(c.crossing.y, 6));

    const auto ground = bike::find_ground(axle, axle + Vec2<double>{c.wheelbase, 0.0}, c.radius, c.radius);
    CHECK(ground.wheelbase == test::within(c.wheelbase, 1e-10));
    const Vec2<double> velocity = perp(axle - pivot) * -1.0;  // the arm turning clockwise: the axle rises
    const double rolled = bike::taken_up(circles, run, velocity, Vec2<double>{}) * c.radius / r2;
    const auto transfer = bike::load_transfer(ground, velocity, c.height);
    const double anti_squat = bike::anti_share(transfer, rolled);
    CHECK(anti_squat == printed(c.anti_squat, 6));
    CHECK(100.0 / anti_squat == printed(c.ratio, 6));
    const double tan_tau = c.height / c.wheelbase;
    CHECK(math::degrees(std::atan(tan_tau)) == printed(c.tau, 6));
    CHECK(math::degrees(std::atan(anti_squat / 100.0 * tan_tau)) == printed(c.sigma, 6));
    CHECK(bike::anti_share(transfer, -c.radius) == printed(c.anti_rise, 6));
  }
}

TEST_CASE("single-pivot table: the same figures out of a whole bike") {
  for (const Case& c : cases) {
    if (c.pitch != bike::chain_pitch) continue;
    INFO(c.ring_teeth << "/" << c.cog_teeth);
    const Vec2<double> axle = c.axle - c.ring, pivot = c.pivot - c.ring;
    bike::Layout layout = test::bike_around(test::MechanismBuilder()
                                                .point("main", pivot.x, pivot.y)
                                                .point("axle", axle.x, axle.y)
                                                .point("eye", -60, 190)
                                                .point("mount", 140, 230)
                                                .member("frame", {"main", "mount"})
                                                .member("swingarm", {"main", "axle", "eye"})
                                                .shock("mount", "eye", 40)
                                                .build());
    layout.rear_radius = layout.front_radius = c.radius;
    layout.front.axle = axle + Vec2<double>{c.wheelbase, 0.0};
    layout.cg.height = c.height;
    layout.drivetrain.gears = {{c.ring_teeth, c.cog_teeth}};
    const bike::Motion motion = bike::trace(layout, 2, false);
    const std::string gear = "[" + layout.drivetrain.gears[0].name() + "]";
    CHECK(test::column(motion.table, "anti_squat_pct" + gear)[0] == printed(c.anti_squat, 6));
    CHECK(test::column(motion.table, "anti_rise_pct")[0] == printed(c.anti_rise, 6));
  }
}
