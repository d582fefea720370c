// A four-bar rear suspension with the wheel on the coupler, from end to end.
//
// Figures computed for this purpose by a separate program (angles and cosine rule; anti-squat three ways: crossing of
// chain line and axle–centre line, moments about the instant centre, rolling with a locked crank). The instant centre
// passes through infinity between the first two rows.
#include <catch2/catch.hpp>

#include "bike/sprocket.hpp"
#include "bike/sweep.hpp"
#include "tests/support/bikes.hpp"
#include "tests/support/close.hpp"
#include "tests/support/textbook.hpp"

using namespace trammel;
using test::printed;

namespace {

struct Row {
  double travel, lower, coupler, axle_x, shock, leverage, ic_x, ic_y, anti_squat, anti_rise, stay, tangent, growth,
      kickback;
};

const Row rows[] = {
    {0, 0, 0, -435.00000, 241.234326, 2.524938, -3512.222, -292.222, 90.53416, -2.24316, 0, 0, 0, 0},
    {20, -2.865128, 0.056068, -436.49447, 233.476279, 2.606038, 5511.131, 333.426, 83.02541, 12.60057, 2.63691, 2.64032,
     1.62337, 1.43572},
    {40, -5.675912, -0.309727, -437.02132, 225.798728, 2.595829, 1778.136, 61.070, 77.20583, 19.40050, 5.21011, 5.21681,
     3.19122, 2.82233},
    {60, -8.455734, -0.950386, -436.61046, 218.036439, 2.554501, 1081.298, 8.633, 72.08833, 23.28835, 7.74675, 7.75665,
     4.72829, 4.18172},
    {80, -11.217577, -1.807307, -435.27493, 210.128376, 2.503167, 764.687, -12.761, 67.34672, 25.91078, 10.26279,
     10.27583, 6.24832, 5.52604},
    {100, -13.970498, -2.855397, -433.01816, 202.054923, 2.452221, 572.184, -21.612, 62.84173, 28.02376, 12.77017,
     12.78631, 7.76115, 6.86399},
    {120, -16.721634, -4.086716, -429.83637, 193.822987, 2.408861, 436.171, -22.925, 58.51125, 30.07870, 15.27925,
     15.29845, 9.27505, 8.20289},
    {140, -19.477007, -5.504453, -425.71940, 185.465176, 2.380297, 331.017, -18.650, 54.33512, 32.41946, 17.79996,
     17.82220, 10.79790, 9.54971},
};

test::MechanismBuilder four_bar() {
  return test::MechanismBuilder()
      .point("A", 10, 60)
      .point("D", 20, 350)
      .point("B", -390, 20)
      .point("C", -90, 330)
      .point("axle", -435, 15)
      .point("F", 95, 165)
      .point("E", 50, 402)
      .member("frame", {"A", "D", "F"})
      .member("lower", {"A", "B"})
      .member("rocker", {"D", "C", "E"})
      .member("rear", {"B", "C", "axle"});
}

/// The ground of the table is level: an upright fork that dips as far as the rear wheel rises keeps it so.
bike::Layout bike_of(const test::MechanismBuilder& builder) {
  bike::Layout layout = test::bike_around(builder.build());
  layout.rear_radius = layout.front_radius = 370.0;
  layout.front = {{780.0, 15.0}, 90.0, 140.0, bike::ForkFollows::matched, 0.0, {}};
  layout.cg = {100.0, 750.0 - (15.0 - 370.0), bike::CgFollows::frame};
  layout.drivetrain.gears = {{32, 21}};
  return layout;
}

}  // namespace

TEST_CASE("four-bar table: path, centre, anti figures and chain, driven by the travel") {
  const bike::Layout layout = bike_of(four_bar().travel("axle", 140.0));
  const linkage::Mechanism& m = layout.mechanism;
  const bike::Motion motion = bike::trace(layout, 8, true);
  const auto values = [&](const char* name) { return test::column(motion.table, name); };
  const auto travel = values("travel_mm"), axle_x = values("axle_x_mm"), ic_x = values("ic_x_mm"),
             ic_y = values("ic_y_mm"), anti_squat = values("anti_squat_pct[32x21]"),
             anti_rise = values("anti_rise_pct"), stay = values("chainstay_growth_mm"),
             growth = values("chain_growth_mm[32x21]"), kickback = values("kickback_deg[32x21]"),
             pitch = values("pitch_deg"), height = values("cg_height_mm"), wheelbase = values("wheelbase_mm");
  const bike::ChainCircles circles{bike::pitch_radius(21), 0.0, bike::pitch_radius(32), false};
  const double drawn_span = bike::chain_run(circles, m.points[4], {}).spans[0].length;
  REQUIRE(motion.poses.size() == std::size(rows));
  for (std::size_t i = 0; i < std::size(rows); ++i) {
    const Row& row = rows[i];
    INFO("travel " << row.travel);
    const auto& p = motion.poses[i].points;
    CHECK(travel[i] == test::within(row.travel, 1e-10));
    CHECK(pitch[i] == test::within(0.0, 1e-12));
    CHECK(test::near(test::degrees_of(p[0], p[2]) - test::degrees_of(m.points[0], m.points[2]), 0.0) ==
          printed(row.lower, 6));
    CHECK(test::near(test::degrees_of(p[2], p[3]) - test::degrees_of(m.points[2], m.points[3]), 0.0) ==
          printed(row.coupler, 6));
    CHECK(axle_x[i] == printed(row.axle_x, 5));
    CHECK(norm(p[5] - p[6]) == printed(row.shock, 6));
    CHECK(ic_x[i] == printed(row.ic_x, 3));
    CHECK(ic_y[i] == printed(row.ic_y, 3));
    CHECK(height[i] == test::within(750.0 - (15.0 + row.travel - 370.0), 1e-9));
    CHECK(wheelbase[i] == test::within(780.0 - axle_x[i], 1e-9));
    CHECK(anti_squat[i] == printed(row.anti_squat, 5));
    CHECK(anti_rise[i] == printed(row.anti_rise, 5));
    CHECK(stay[i] == printed(row.stay, 5));
    CHECK(bike::chain_run(circles, p[4], {}).spans[0].length - drawn_span == printed(row.tangent, 5));
    CHECK(growth[i] == printed(row.growth, 5));
    CHECK(kickback[i] == printed(row.kickback, 5));
  }
}

TEST_CASE("four-bar table: leverage, driven by the shock") {
  // A stroke a little longer than the table's, so that its last row is not at the end.
  const bike::Model model = bike::make_model(bike_of(four_bar().shock("F", "E", 56.0)));
  bike::Sweep<double> sweep(model, 40);
  sweep.march(model.layout.mechanism.points, [](std::size_t, const linkage::State<double>&) {});
  const double drawn = norm(model.layout.mechanism.points[5] - model.layout.mechanism.points[6]);
  const bike::Wanted gears = bike::Wanted::everything(1);
  for (const Row& row : rows) {
    INFO("travel " << row.travel);
    const double s = sweep.driving_at(row.travel);
    CHECK(drawn - s == printed(row.shock, 6));
    const bike::StationValues<double>& values = sweep.at(s, gears);
    CHECK(values[bike::Curve::travel] == test::within(row.travel, 1e-9));
    CHECK(values[bike::Curve::leverage] == printed(row.leverage, 6));
    CHECK(values[bike::Curve::ic_x] == printed(row.ic_x, 3));
    CHECK(values.chain_growth[0] == printed(row.growth, 5));
  }
}
